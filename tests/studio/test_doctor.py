"""The doctor finds each fault that is planted, and nothing in a studio that is well."""

import io
from datetime import timedelta

import pytest
from django.core.files.storage import storages
from django.core.management import CommandError, call_command
from django.db import transaction
from django.utils import timezone

from inventory.models import Fill, Flag
from studio.doctor import secret_key_is_private
from studio.models import Person, Studio
from tiles.models import Combination, Layer, Photo, Tile, TileFiring, TileZone


@pytest.fixture
def house(db, photo_folder, quick_drawings, settings, tmp_path):
    """The demo with some copies of its tiles."""
    settings.DATA_DIR = tmp_path
    call_command("demo", no_serve=True, tiles=200, stdout=io.StringIO())


def doctor():
    out = io.StringIO()
    call_command("doctor", stdout=out)
    return out.getvalue()


def volume():
    Fill.objects.filter(balance_ml__gt=0, ended_at=None).update(balance_ml=123)


def volume_of_an_ended_fill():
    Fill.objects.filter(ended_at__isnull=False).update(balance_ml=5)


def closed_by_nobody():
    Flag.objects.filter(outcome="mistaken").update(closed_by=None)


def put_right_too_early():
    Flag.objects.filter(outcome="put_right").update(put_right_at=timezone.now() - timedelta(days=900))


def cone_in_a_firing():
    TileFiring.objects.filter(tile__number="1", firing__number=10).update(cone="7")


def cone_of_a_tile():
    Tile.objects.filter(number="1").update(cone="7")


def zone_left_out():
    TileZone.objects.filter(tile__number="10", kind="overlap").delete()


def zone_of_other_layers():
    Layer.objects.filter(tile__number="10", position=2).update(area="lower")


def combination_of_another_name():
    Combination.objects.filter(pk=Combination.objects.first().pk).update(key="0" * 32)


def photo_without_a_file():
    storage, photo = storages["photos"], Photo.objects.first()
    storage.delete(f"photos/{photo.key[:2]}/{photo.key}/medium.jpg")


def no_manager():
    Person.objects.filter(role="manager").update(is_active=False)


def no_public_address():
    Studio.objects.update(is_demo=False)


PLANTED = [
    (volume, "its entries come to"),
    (volume_of_an_ended_fill, "its entries come to"),
    (closed_by_nobody, "nobody closed it"),
    (put_right_too_early, "put right before it began"),
    (cone_in_a_firing, "not the one that the evidence gives"),
    (cone_of_a_tile, "not that of its hottest glaze firing"),
    (zone_left_out, "its zones are not those of its layers"),
    (zone_of_other_layers, "its zones are not those of its layers"),
    (combination_of_another_name, "its key does not name its glazes"),
    (no_manager, "Nobody is manager"),
    (no_public_address, "No public address"),
    (photo_without_a_file, "lacks 1 of its files"),  # last: a file does not come back with the transaction
]


def test_nothing_is_wrong_with_the_demo_and_each_planted_fault_is_found(house, subtests):
    assert Tile.objects.count() == 200
    copy = Tile.objects.get(number="X1")
    assert copy.layers.exists()
    assert copy.zones.exists()
    assert copy.outcomes.exists()
    assert "WRONG" not in doctor()
    for plant, sentence in PLANTED:
        with subtests.test(plant.__name__), transaction.atomic():
            plant()
            out = io.StringIO()
            with pytest.raises(CommandError, match="1 thing is|things are") as caught:
                call_command("doctor", stdout=out)
            assert caught.value.returncode == 1
            assert sentence in out.getvalue()
            transaction.set_rollback(True)


def test_a_secret_key_that_others_can_read_is_found(db, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    key = tmp_path / "secret_key"
    key.write_text("k")
    key.chmod(0o644)
    assert any("chmod 600" in sentence for sentence in secret_key_is_private())
    key.chmod(0o600)
    assert not secret_key_is_private()
