"""Many photos at once: each kept once, sorted by picking, taken back, left out; seen only by who may."""

from pathlib import Path

import pytest
from django.core.files.storage import storages
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from studio.errors import Refused
from studio.roles import NotAllowed
from tests import make, photo_files
from tests.reading import text_of
from tiles.actions import add_photo, archive_photo
from tiles.actions.loose import add_loose_photo, drop_loose_photo, pick_photo, unpick_photo
from tiles.doctor import photo_files_exist
from tiles.models import LoosePhoto


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def fired(member):
    """T1 and T2 of the member are unloaded."""
    tiles = [make.tile(f"T{n}", by=member, layers=[{"glaze": make.glaze()}]) for n in (1, 2)]
    return make.fire(make.firing(), *tiles)


def file(width=300, name="kiln.jpg"):
    return SimpleUploadedFile(name, photo_files.jpeg((width, 200)))


def page(firing):
    return reverse("tiles:loose", args=[firing.number])


def tile_of(firing, number):
    return firing.tile_firings.get(tile__number=number).tile


def numbers_of_photos(firing):
    return {
        row.tile.number: row.tile.photos.filter(archived_at=None).count() for row in firing.tile_firings.all()
    }


def test_a_private_tile_that_it_was_sorted_to_is_not_named(member, people):
    hidden = make.tile("P1", by=people["other"], visibility="mine", layers=[{"glaze": make.glaze()}])
    loose = add_loose_photo(by=member, firing=make.fire(make.firing(), hidden), file=file())
    pick_photo(by=people["technician"], loose=loose, tile=hidden)
    with pytest.raises(Refused, match="it is on a private tile"):
        drop_loose_photo(by=member, loose=loose)


def test_many_at_once_then_each_to_its_tile(mine, fired):
    bad = SimpleUploadedFile("notes.txt", b"no photo")
    sent = mine.post(
        page(fired), {"photos": [file(300), file(310), file(300, "again.jpg"), file(320), bad]}, follow=True
    )
    shown = text_of(sent)
    for words in ("3 photos are kept.", "1 photo was here already", "notes.txt", "0 sorted, 3 to go"):
        assert words in shown
    for number, left in (("T1", 2), ("t2", 1), ("T1", 0)):
        loose = mine.get(page(fired)).context["loose"]
        after = mine.post(reverse("tiles:loose-pick", args=[loose.pk]), {"tile": number}, follow=True)
        assert after.context["left"] == left
    assert "All photos are sorted." in text_of(after)
    assert numbers_of_photos(fired) == {"T1": 2, "T2": 1}
    assert {photo.stage for photo in tile_of(fired, "T1").photos.all()} == {"fired"}


def test_the_last_pick_is_taken_back_and_picked_again(mine, fired):
    mine.post(page(fired), {"photos": [file()]})
    loose = LoosePhoto.objects.get()
    mine.post(reverse("tiles:loose-pick", args=[loose.pk]), {"tile": "T1"})
    assert "Undo: the last one went to T1" in text_of(mine.get(page(fired)))
    back = mine.post(reverse("tiles:loose-undo", args=[loose.pk]), follow=True)
    assert (back.context["loose"], numbers_of_photos(fired)) == (loose, {"T1": 0, "T2": 0})
    mine.post(reverse("tiles:loose-pick", args=[loose.pk]), {"tile": "T2"})
    assert numbers_of_photos(fired) == {"T1": 0, "T2": 1}
    assert photo_files_exist() == []


def test_what_cannot_be_picked(fired, member, people):
    loose = add_loose_photo(by=member, firing=fired, file=file())
    elsewhere = make.fired_tile(by=member)
    with pytest.raises(Refused, match="was not in"):
        pick_photo(by=member, loose=loose, tile=elsewhere)
    with pytest.raises(NotAllowed):
        pick_photo(by=people["other"], loose=loose, tile=tile_of(fired, "T1"))
    with pytest.raises(Refused, match="nothing to take back"):
        unpick_photo(by=member, loose=loose)
    pick_photo(by=people["technician"], loose=loose, tile=tile_of(fired, "T1"))
    with pytest.raises(Refused, match="sorted already: it is on Tile T1"):
        pick_photo(by=member, loose=loose, tile=tile_of(fired, "T2"))
    with pytest.raises(Refused, match="sorted already"):
        drop_loose_photo(by=member, loose=loose)
    with pytest.raises(Refused, match="here already"):
        add_loose_photo(by=member, firing=fired, file=file())
    with pytest.raises(Refused, match="when it is unloaded"):
        add_loose_photo(by=member, firing=make.firing(), file=file())


def test_a_photo_that_is_on_the_tile_already_is_not_put_there_twice(fired, member):
    tile = tile_of(fired, "T1")
    add_photo(by=member, tile=tile, file=file())
    loose = add_loose_photo(by=member, firing=fired, file=file())
    with pytest.raises(Refused, match="on the tile already"):
        pick_photo(by=member, loose=loose, tile=tile)
    loose.refresh_from_db()
    assert loose.photo is None


def test_one_that_is_left_out_keeps_its_files(mine, fired):
    mine.post(page(fired), {"photos": [file()]})
    loose = LoosePhoto.objects.get()
    after = mine.post(reverse("tiles:loose-drop", args=[loose.pk]), follow=True)
    assert after.context["loose"] is None
    assert storages["photos"].exists(f"photos/{loose.key[:2]}/{loose.key}/small.jpg")


def test_one_taken_off_the_tile_waits_to_be_sorted_again(mine, fired, member):
    loose = add_loose_photo(by=member, firing=fired, file=file())
    archive_photo(by=member, photo=pick_photo(by=member, loose=loose, tile=tile_of(fired, "T1")))
    assert mine.get(page(fired)).context["loose"] == loose


def test_until_it_is_sorted_its_sender_and_technicians_see_it(client, fired, member, people):
    loose = add_loose_photo(by=member, firing=fired, file=file())
    address = reverse("tiles:loose-sized", args=[loose.pk, "small"])
    for who, status in (("member", 200), ("technician", 200), ("other", 404)):
        client.force_login(people[who])
        answer = client.get(address)
        assert answer.status_code == status
        assert (client.get(page(fired)).context["loose"] == loose) == (status == 200)
        listed = client.get("/api/v1/loose-photos/", {"unsorted": "true"}).json()["results"]
        assert len(listed) == (status == 200)
    assert client.post(reverse("tiles:loose-pick", args=[loose.pk]), {"tile": "T1"}).status_code == 404


def test_a_private_tile_is_not_among_the_numbers(mine, people):
    hidden = make.tile("P1", by=people["other"], visibility="mine", layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(), hidden)
    mine.post(page(firing), {"photos": [file()]})
    loose = LoosePhoto.objects.get()
    assert mine.get(page(firing)).context["stops"] == []
    told = mine.post(reverse("tiles:loose-pick", args=[loose.pk]), {"tile": "P1"}, follow=True)
    assert "No tile of this firing has this number" in text_of(told)


def test_the_doctor_misses_the_file_of_a_loose_photo(fired, member):
    loose = add_loose_photo(by=member, firing=fired, file=file())
    assert photo_files_exist() == []
    Path(storages["photos"].path(f"photos/{loose.key[:2]}/{loose.key}/medium.jpg")).unlink()
    assert len(photo_files_exist()) == 1
