"""The demo: loaded once, by the real actions, and never into a real studio."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.urls import reverse

from inventory.calc.cones import Cone
from inventory.hazards import hazard_notes
from inventory.models import Bucket, Fill, Glaze, GlazeSubstance
from inventory.substances import substances_of
from studio.backups import kept_models
from studio.demo import demo_people
from studio.models import Person, Studio
from tests import make
from tiles.kiln_truth import KilnTruth
from tiles.models import ClayBody, Firing, FiringLog, Kiln, Outcome, OutcomeFault, Photo, Tile, TileFiring


def say(*command, **options):
    out = StringIO()
    call_command(*command, stdout=out, **options)
    return out.getvalue()


@pytest.fixture
def drawn_once(request):
    """How a tile is drawn does not hang on the database: drawn beside SQLite, one grey picture beside another."""
    if connection.vendor != "sqlite":
        request.getfixturevalue("quick_drawings")


def test_the_demo(db, photo_folder, drawn_once, client, subtests):
    """Loaded once for all of this, because it takes a few seconds."""
    printed = say("demo", no_serve=True)
    for part in (a_second_run, the_shelf, the_wall, the_logs, a_year, a_layer_of_a_bucket_flagged_later):
        with subtests.test(part.__name__):
            part()
    with subtests.test("log-ins"):
        the_log_ins(printed, client)


def a_second_run():
    """It loads nothing and says so."""

    def counts():
        return {model._meta.label: model._base_manager.count() for model in kept_models()}

    before = counts()
    assert "nothing was loaded" in say("demo", no_serve=True)
    assert counts() == before


def the_log_ins(printed, client):
    """One for each role is printed and works."""
    assert [row["role"] for row in demo_people()] == ["member", "technician", "manager"]
    for row in demo_people():
        assert row["username"] in printed
        assert row["password"] in printed
        given = {"username": row["username"], "password": row["password"]}
        assert client.post(reverse("studio:login"), given).status_code == 302, row["username"]
        client.logout()


def the_shelf():
    """Every kind of standing is to be seen."""
    assert Bucket.objects.count() == 24
    assert Glaze.objects.filter(kind="glaze").count() >= 18
    fills = Fill.objects.in_use().select_related("glaze", "bucket").with_standing()
    reasons = {reason for fill in fills for reason in (*fill.standing.use_reasons, *fill.standing.notes)}
    assert {"contaminated", "dried_out", "other", "sg_high", "sg_stale"} <= reasons
    assert {fill.standing.food for fill in fills} >= {"keep_from_food", "mixed_here", "label_food_safe"}
    assert Bucket.objects.exclude(fills__ended_at=None).exists(), "one bucket is free"
    # More to be careful with than the silica of every raw glaze.
    assert set(GlazeSubstance.objects.values_list("substance", flat=True)) == {"Cu", "Co", "stain"}
    held = substances_of([fill.glaze for fill in fills])
    assert any(hazard_notes(held[fill.glaze_id]) for fill in fills)


def the_wall():
    assert Tile.objects.count() == 160
    assert (ClayBody.objects.count(), Kiln.objects.count(), Firing.objects.count()) == (4, 2, 15)
    fired = Tile.objects.filter(state__in=["fired", "recorded"])
    assert fired.count() > 100
    assert not fired.filter(photos=None).exists(), "every fired tile has its drawing"
    assert set(Firing.objects.values_list("state", flat=True)) == {
        "unloaded",
        "stopped",
        "loading",
        "cooling",
    }
    assert {"running", "crazing", "crawling"} <= set(OutcomeFault.objects.values_list("kind", flat=True))
    assert all("Drawing" in photo.caption for photo in Photo.objects.all())
    # Two places of one firing saw different cones, because its witness cones say so.
    assert Tile.objects.get(number="1").cone.code == "6"
    assert Tile.objects.get(number="13").cone.code == "5"


def the_logs():
    """Of every firing that was fired; the cones by log and by witness do not contradict each other."""
    assert FiringLog.objects.count() == 14
    assert FiringLog.objects.get(source="live").firing.state == "cooling"
    glazed = FiringLog.objects.filter(firing__target_cone=Cone.parse("6"), firing__state="unloaded")
    assert {log.cone.code for log in glazed} == {"6"}
    assert not FiringLog.objects.exclude(marks=[]).exists()
    # Heron's instrument reads for its middle; the bottom lags, as the remarks say.
    offset = {shelf.position: shelf.median_c for shelf in KilnTruth(Kiln.objects.get(name="Heron")).shelves}
    assert abs(offset["middle"]) < 5
    assert offset["bottom"] < min(offset["middle"], offset["top"]) - 5


def a_year():
    """From the first firing to now; refired tiles keep both looks; faults are to be seen."""
    days = [f.unloaded_at for f in Firing.objects.exclude(unloaded_at=None).order_by("unloaded_at")]
    assert (days[-1] - days[0]).days > 300
    for row in TileFiring.objects.filter(firing__kind="refire"):
        looks = Outcome.objects.filter(tile=row.tile).values_list("firing", flat=True)
        assert len(set(looks)) == 2
    assert set(OutcomeFault.objects.values_list("kind", flat=True)) >= {
        "pinholing",
        "shivering",
        "blistering",
    }
    assert Outcome.objects.exclude(damage="").exists()


def a_layer_of_a_bucket_flagged_later():
    """It keeps the standing of its day; the flag's reach says the rest."""
    layer = Tile.objects.get(number="5").layers.get()
    assert layer.use_then == "use"
    assert layer.fill.flags.filter(kind="contaminated", outcome="").exists()


def test_a_real_studio_is_left_alone(db):
    make.studio()
    with pytest.raises(CommandError, match="real studio"):
        call_command("demo", no_serve=True)
    assert Studio.objects.get().name == "Millrace Clay Co-op"
    assert not Person.objects.exists()


def test_people_without_a_studio_are_left_alone_too(db):
    make.person()
    with pytest.raises(CommandError, match="real studio"):
        call_command("demo", no_serve=True)
