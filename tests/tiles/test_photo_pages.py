"""Photos: taken in or refused with a sentence, and served clean to whoever may see the tile."""

import io
import re
from pathlib import Path

import pytest
from django.core.files.storage import storages
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from studio.errors import Refused
from studio.photos.refusing import SENTENCES
from tests import make, photo_files
from tiles.actions import add_photo, archive_photo, change_tile
from tiles.models import Photo

SIZES = ["small", "medium", "large"]


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


def sent(data=None, name="tile.jpg"):
    return SimpleUploadedFile(name, photo_files.jpeg((300, 500)) if data is None else data)


def kept_files():
    """Every file under the photo storage."""
    root = Path(storages["photos"].location)
    return sorted(path for path in root.rglob("*") if path.is_file())


def body(answer):
    return b"".join(answer.streaming_content)


def says(code, sentence):
    """Whether the sentence is the one of its code, whatever figures stand in it."""
    pattern = re.sub(r"%\\\((\w+)\\\)d", r"[0-9]+", re.escape(str(SENTENCES[code])))
    return re.fullmatch(pattern, sentence) is not None


@pytest.mark.parametrize("name", photo_files.BAD_FILES)
def test_a_bad_file_is_refused_in_words_and_leaves_no_trace(mine, member, name):
    tile = make.tile(by=member)
    before, files = tile.version, kept_files()
    typed = {"photo": sent(photo_files.bad(name), name), "caption": "in the evening"}
    answer = mine.post(reverse("tiles:photo-add", args=[tile.number]), typed)
    form = answer.context["photo_form"]
    (sentence,) = form.errors["photo"]
    assert says(photo_files.BAD_FILES[name][0], sentence)
    assert form["caption"].value() == "in the evening"
    tile.refresh_from_db()
    assert (tile.version, tile.photos.count(), kept_files()) == (before, 0, files)


def test_a_bad_file_sent_while_logging_comes_back_to_the_log(mine, member):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze("Weir Ash")}])
    typed = {"camera": sent(b"", "empty.jpg"), "caption": "front", "back": "log"}
    shown = mine.post(reverse("tiles:photo-add", args=[tile.number]), typed)
    assert "This file is empty." in shown.content.decode()
    assert shown.context["photo_form"]["caption"].value() == "front"
    assert "Weir Ash" in shown.content.decode()


@pytest.mark.parametrize("field", ["camera", "photo"])
def test_either_button_brings_a_photo(mine, member, field):
    tile = make.tile(by=member)
    page = reverse("tiles:photo-add", args=[tile.number])
    answer = mine.post(page, {field: sent(), "caption": "front"})
    assert answer["Location"] == tile.get_absolute_url()
    photo = tile.photos.get()
    assert (photo.caption, photo.by, photo.width, photo.height) == ("front", member, 300, 500)
    assert "Take or choose a photo first." in mine.post(page, {"caption": "none"}).content.decode()


def test_the_same_photo_is_kept_once(mine, member):
    tile, other = make.tile(by=member), make.tile(by=member)
    add_photo(by=member, tile=tile, file=sent())
    files = kept_files()
    with pytest.raises(Refused, match="on the tile already"):
        add_photo(by=member, tile=tile, file=sent())
    assert (tile.photos.count(), kept_files()) == (1, files)
    add_photo(by=member, tile=other, file=sent())


@pytest.mark.parametrize("size", SIZES)
def test_what_is_served_is_upright_and_says_nothing_of_its_taking(mine, member, size):
    raw = photo_files.jpeg((900, 1500), orientation=6, gps=True, taken="2026:03:14 09:26:53")
    photo = add_photo(by=member, tile=make.tile(by=member), file=sent(raw))
    answer = mine.get(reverse("tiles:photo-sized", args=[photo.pk, size]))
    data = body(answer)
    with Image.open(io.BytesIO(data)) as image:
        assert (image.format, dict(image.getexif())) == ("JPEG", {})
        assert image.height > image.width
        assert {"exif", "xmp", "comment"} & set(image.info) == set()
    assert b"Millrace" not in data
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["Cache-Control"] == "private, max-age=31536000, immutable"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert photo.taken_at.year == 2026


def test_a_browser_that_has_it_is_told_so_after_the_permission_check(client, member, people):
    tile = make.tile(by=member)
    address = reverse("tiles:photo-sized", args=[add_photo(by=member, tile=tile, file=sent()).pk, "small"])
    client.force_login(people["other"])
    first = client.get(address)
    etag = first["ETag"]
    assert body(first)
    again = client.get(address, headers={"If-None-Match": etag})
    assert (again.status_code, again["Cache-Control"]) == (304, first["Cache-Control"])
    change_tile(by=member, obj=tile, values={"visibility": "mine"})
    assert client.get(address, headers={"If-None-Match": etag}).status_code == 404


def test_only_the_three_sizes_exist(mine, member):
    photo = add_photo(by=member, tile=make.tile(by=member), file=sent())
    assert mine.get(f"/photos/{photo.pk}/huge").status_code == 404
    assert mine.get(f"/photos/{photo.pk}/original.jpg").status_code == 404


def test_the_file_as_sent_goes_to_who_may_change_the_tile(client, member, people):
    raw = photo_files.jpeg((300, 500), gps=True)
    photo = add_photo(by=member, tile=make.tile("A1", by=member), file=sent(raw))
    address = reverse("tiles:photo-original", args=[photo.pk])
    client.force_login(people["other"])
    assert client.get(address).status_code == 403
    client.force_login(people["technician"])
    answer = client.get(address)
    assert body(answer) == raw
    assert answer["Content-Disposition"] == 'attachment; filename="tile-A1.jpg"'
    assert answer["Content-Type"] == "application/octet-stream"
    assert "no-store" in answer["Cache-Control"]


def test_an_archived_photo_is_off_the_page_and_its_file_stays(client, member, people):
    tile = make.tile(by=member)
    photo = add_photo(by=member, tile=tile, file=sent())
    address = reverse("tiles:photo", args=[photo.pk])
    archive_photo(by=member, photo=photo, reason="the wrong tile")
    client.force_login(people["other"])
    assert client.get(address).status_code == 404
    assert address not in client.get(tile.get_absolute_url()).content.decode()
    client.force_login(member)
    assert client.get(address).status_code == 200
    assert Photo.objects.filter(pk=photo.pk).exists()


def test_a_file_that_is_gone_from_the_disk_is_a_missing_page(mine, member):
    photo = add_photo(by=member, tile=make.tile(by=member), file=sent())
    storages["photos"].delete(f"photos/{photo.key[:2]}/{photo.key}/small.jpg")
    assert mine.get(reverse("tiles:photo-sized", args=[photo.pk, "small"])).status_code == 404
