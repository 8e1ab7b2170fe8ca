"""A backup restores to the same rows and the same photos, or not at all."""

import gzip
import io
import json
import stat
import tarfile

import pytest
from django.conf import settings as real_settings
from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.core.management import CommandError, call_command
from django.db import connection

from studio import backups
from studio.actions.history import record_change
from studio.backups import kept_models
from studio.demo import load_demo
from studio.models import Change, IdempotencyRecord, Person
from tests import make
from tests.studio.conftest import photos_in
from tiles.actions import add_photo
from tiles.models import Tile


def everything():
    return {m._meta.label: list(m._base_manager.order_by("pk").values()) for m in kept_models()}


def empty_the_database():
    IdempotencyRecord.objects.all().delete()
    for model in reversed(kept_models()):
        model._base_manager.all()._raw_delete(connection.alias)


def files(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def backup_into(folder):
    call_command("backup", to=str(folder), stdout=io.StringIO())
    (path,) = folder.iterdir()
    return path


@pytest.fixture
def backup(studio, photo_folder, quick_drawings, tmp_path):
    """A small studio with one photo, and its backup."""
    tile = make.fired_tile(outcome={"surface": "satin"}, layers=[{"glaze": make.glaze("Sluice Blue")}])
    photo = ContentFile(quick_drawings, name="drawing.jpg")
    add_photo(by=tile.maker, tile=tile, file=photo)
    IdempotencyRecord.objects.create(person=tile.maker, key="k", method_and_path="POST /", digest="d")
    return backup_into(tmp_path / "out")


def restore(path):
    call_command("restore", str(path), stdout=io.StringIO())


def rewritten(path, change):
    """The backup with some of its members changed by `change(name, content)`; None leaves one out."""
    other = path.with_name("rewritten.tar.gz")
    with tarfile.open(path) as old, tarfile.open(other, "w:gz") as new:
        for info in old:
            content = change(info.name, old.extractfile(info).read())
            if content is not None:
                info.size = len(content)
                new.addfile(info, io.BytesIO(content))
    return other


def test_round_trip_into_another_storage(db, photo_folder, quick_drawings, settings, tmp_path):
    load_demo()
    Tile.objects.filter(number="1").update(remark="two\nlines,\u2028a separator and \x85 ½ ‘quotes’")
    backup = backup_into(tmp_path / "out")
    before, photos = everything(), files(photo_folder)
    assert len(before["tiles.Photo"]) > 0
    assert len(before["tiles.LabReport"]) > 0
    pictures = len(before["tiles.Photo"]) + len(before["tiles.HomeTrialPhoto"])
    # A picture is kept in four sizes, the paper of a laboratory's report as it was sent.
    assert len(photos) == 4 * pictures + len(before["tiles.LabReport"])
    empty_the_database()
    photos_in(settings, tmp_path / "elsewhere")
    restore(backup)
    after = everything()
    for label in before:
        assert after[label] == before[label], label
    assert files(tmp_path / "elsewhere") == photos
    # The next row gets a number of its own, also where the database counts by itself.
    last = Change.objects.order_by("-id").first().pk
    record_change(by=None, verb="looked", obj=Person.objects.first())
    assert Change.objects.order_by("-id").first().pk > last


def test_photos_may_go_to_any_storage(backup, photo_folder, settings):
    photos = files(photo_folder)
    empty_the_database()
    memory = {"BACKEND": "django.core.files.storage.InMemoryStorage"}
    settings.STORAGES = {**settings.STORAGES, "photos": memory}
    restore(backup)
    storage = storages["photos"]
    assert {name: storage.open(name).read() for name in backups.photo_names(storage)} == photos


def test_what_is_in_it(backup):
    with tarfile.open(backup) as tar:
        names = tar.getnames()
        manifest = json.load(tar.extractfile("manifest.json"))
        held = b"".join(tar.extractfile(name).read() for name in names)
    assert stat.S_IMODE(backup.stat().st_mode) == 0o600
    assert manifest["files"]["records/tiles.tile.jsonl"]["rows"] == Tile.objects.count()
    assert set(manifest["files"]) == set(names) - {"manifest.json"}
    assert {name.split("/")[1].split(".")[0] for name in names if name.startswith("records/")} == {
        "studio",
        "inventory",
        "tiles",
    }
    assert "records/studio.idempotencyrecord.jsonl" not in names
    assert real_settings.SECRET_KEY.encode() not in held


def test_records_come_before_those_that_point_at_them():
    order = [model._meta.label for model in kept_models()]
    assert order.index("studio.Person") < order.index("studio.Token")
    assert order.index("inventory.Fill") < order.index("tiles.Layer") < len(order)
    assert order.index("tiles.Firing") < order.index("tiles.Outcome") < order.index("tiles.Photo")


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (lambda n, c: c.replace(b"Sluice", b"Slurry") if "glaze" in n else c, "differs from its own list"),
        (lambda n, c: None if n.startswith("photos/") else c, "differs from its own list"),
        (lambda n, c: None if n == "manifest.json" else c, "no backup of Tilekeep"),
        (
            lambda n, c: c.replace(b'"tiles": "0', b'"tiles": "9') if n == "manifest.json" else c,
            "another version",
        ),
    ],
)
def test_a_changed_backup_is_not_read(backup, settings, tmp_path, change, sentence):
    empty_the_database()
    photos_in(settings, tmp_path / "elsewhere")
    with pytest.raises(CommandError, match=sentence):
        restore(rewritten(backup, change))
    assert not any(model._base_manager.exists() for model in kept_models())
    assert not (tmp_path / "elsewhere").exists()


def test_a_cut_or_foreign_file_is_not_read(backup, tmp_path):
    empty_the_database()
    cut = tmp_path / "cut.tar.gz"
    cut.write_bytes(backup.read_bytes()[:-2000])
    foreign = tmp_path / "foreign.tar.gz"
    foreign.write_bytes(gzip.compress(b"not a tar file at all"))
    for path in (cut, foreign):
        with pytest.raises(CommandError, match=r"damaged|no backup"):
            restore(path)
    with pytest.raises(CommandError, match="no file"):
        restore(tmp_path / "nowhere.tar.gz")
    assert not Person.objects.exists()


def test_a_studio_with_records_is_not_overwritten(backup):
    before = everything()
    with pytest.raises(CommandError, match="holds records already"):
        restore(backup)
    assert everything() == before


def test_only_the_newest_are_kept(db, tmp_path):
    for stamp in ("20240101-000000", "20240102-000000", "20240103-000000"):
        (tmp_path / backups.NAME.format(stamp=stamp)).touch()
    (tmp_path / "tilekeep-mine.tar.gz").touch()
    call_command("backup", to=str(tmp_path), keep=2, stdout=io.StringIO())
    kept = sorted(path.name for path in tmp_path.iterdir())
    assert len(kept) == 3
    assert "tilekeep-20240103-000000.tar.gz" in kept
    assert "tilekeep-mine.tar.gz" in kept
    with pytest.raises(CommandError, match="at least 1"):
        call_command("backup", to=str(tmp_path), keep=0)
