"""Photos of what was seen: kept with the flag or refused with everything typed kept, and never half."""

import io
from pathlib import Path

import pytest
from django.core.files.storage import storages
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from inventory import actions as shelf
from inventory.doctor import flag_photos_exist
from inventory.models import Flag, FlagPhoto
from studio.errors import Refused
from tests import make, photo_files


@pytest.fixture
def fill(manager):
    return make.fill(make.glaze("Weir Green"))


@pytest.fixture
def raising(fill):
    return reverse("inventory:flag-new", args=[fill.bucket.code])


def sent(data=None, name="lid.jpg", size=(300, 500)):
    return SimpleUploadedFile(name, photo_files.jpeg(size) if data is None else data)


def kept_files():
    root = Path(storages["photos"].location)
    return sorted(path for path in root.rglob("*") if path.is_file())


def test_a_flag_is_raised_with_photos_by_either_button(client, member, raising, fill):
    client.force_login(member)
    typed = {
        "kind": "contaminated",
        "camera": sent(),
        "photo": [sent(size=(310, 500)), sent(size=(320, 500))],
    }
    page = client.post(raising, typed, follow=True).content.decode()
    photos = Flag.objects.get().photos.all()
    assert sorted(photo.width for photo in photos) == [300, 310, 320]
    assert {photo.by for photo in photos} == {member}
    assert all(f"/flag-photos/{photo.pk}/small" in page for photo in photos)


@pytest.mark.parametrize("name", ["empty.jpg", "words.jpg"])
def test_a_refused_photo_keeps_everything_typed_and_raises_nothing(client, member, raising, name):
    client.force_login(member)
    files, bad = kept_files(), sent(b"" if name == "empty.jpg" else b"not a photo at all" * 99, name)
    typed = {"kind": "contaminated", "note": "blue specks", "since": "2026-03-04", "photo": [sent(), bad]}
    answer = client.post(raising, typed)
    assert answer.status_code == 200
    page = answer.content.decode()
    for kept in ("blue specks", 'value="2026-03-04"', 'value="contaminated"'):
        assert kept in page
    assert len(answer.context["form"].errors["photo"]) == 1
    assert (Flag.objects.count(), FlagPhoto.objects.count(), kept_files()) == (0, 0, files)


def test_another_fault_says_that_photos_must_be_chosen_again(client, member, raising):
    client.force_login(member)
    files = kept_files()
    answer = client.post(raising, {"kind": "other", "note": "", "photo": sent()})
    said = answer.content.decode()
    assert "Say what is wrong" in said
    assert "Choose the photos again" in said
    assert (Flag.objects.count(), kept_files()) == (0, files)


def test_a_failure_behind_the_photos_leaves_neither_flag_nor_file(fill, member, monkeypatch):
    files = kept_files()

    def fail(**fields):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr("inventory.actions.flag_photos.record_change", fail)
    with pytest.raises(RuntimeError):
        shelf.raise_flag_with_photos(by=member, fill=fill, files=[sent()], kind="contaminated")
    assert (Flag.objects.count(), kept_files()) == (0, files)


def test_a_second_report_brings_its_photos_to_the_first_flag(fill, member, people):
    first = shelf.raise_flag_with_photos(by=member, fill=fill, files=[sent()], kind="contaminated")
    new, again = sent(size=(400, 300)), sent()
    joined = shelf.raise_flag_with_photos(
        by=people["other"], fill=fill, files=[new, again, sent()], kind="contaminated"
    )
    assert joined == first
    assert sorted(first.photos.values_list("width", "by")) == [(300, member.pk), (400, people["other"].pk)]
    with pytest.raises(Refused, match="on the flag already"):
        shelf.add_flag_photo(by=member, flag=first, file=sent())
    # Somebody else has acted.
    assert not shelf.may_withdraw(member, first)


def test_not_more_than_a_handful_at_once(fill, member):
    with pytest.raises(Refused, match="at most 6 photos"):
        shelf.raise_flag_with_photos(by=member, fill=fill, files=[sent()] * 7, kind="contaminated")
    assert not Flag.objects.exists()


def test_a_photo_is_added_later(client, people, fill):
    flag = shelf.raise_flag(by=people["member"], fill=fill, kind="contaminated")
    client.force_login(people["other"])
    address = reverse("inventory:flag-photo", args=[flag.pk])
    assert "Take or choose a photo first." in client.post(address, {}).content.decode()
    assert client.post(address, {"photo": sent()})["Location"] == flag.get_absolute_url()
    assert flag.photos.get().by == people["other"]


@pytest.mark.parametrize(
    "address", ["/flag-photos/{pk}/{size}", "/api/v1/flags/{flag}/photos/{pk}/?size={size}"]
)
def test_it_is_served_clean_and_only_to_people_of_the_studio(client, member, fill, address):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    photo = shelf.add_flag_photo(by=member, flag=flag, file=sent(photo_files.jpeg((600, 900), gps=True)))
    there = address.format(pk=photo.pk, flag=flag.pk, size="small")
    assert client.get(there).status_code in (302, 401)
    assert str(photo.pk) not in client.get(fill.bucket.get_absolute_url()).content.decode()
    client.force_login(member)
    answer = client.get(there)
    with Image.open(io.BytesIO(b"".join(answer.streaming_content))) as image:
        assert (image.format, dict(image.getexif())) == ("JPEG", {})
    assert answer["Cache-Control"] == "private, max-age=31536000, immutable"
    assert client.get(address.format(pk=photo.pk, flag=flag.pk, size="original")).status_code in (400, 404)


def test_a_photo_is_sent_by_the_api(client, member, fill):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    client.force_login(member)
    address = f"/api/v1/flags/{flag.pk}/photos/"
    assert client.post(address, {"photo": sent(b"words")}).status_code == 400
    made = client.post(address, {"photo": sent()}, headers={"Idempotency-Key": "k1"})
    again = client.post(address, {"photo": sent()}, headers={"Idempotency-Key": "k1"})
    assert (made.status_code, again.json()) == (201, made.json())
    assert [p["id"] for p in client.get(f"/api/v1/flags/{flag.pk}/").json()["photos"]] == [made.json()["id"]]


def test_the_doctor_misses_a_file(fill, member):
    flag = shelf.raise_flag_with_photos(by=member, fill=fill, files=[sent()], kind="contaminated")
    assert flag_photos_exist() == []
    key = flag.photos.get().key
    storages["photos"].delete(f"photos/{key[:2]}/{key}/small.jpg")
    (said,) = flag_photos_exist()
    assert "lacks 1 of its files" in said
