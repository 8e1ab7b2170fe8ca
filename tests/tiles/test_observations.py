"""What a tile's record says of it: so, not so, or nothing."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import GlazeSubstance
from tests import make
from tiles.actions import record_outcome
from tiles.calc.causes import OBSERVATIONS
from tiles.calc.readings import pack
from tiles.course import Course
from tiles.models import Firing, FiringLog, Layer
from tiles.observations import observations
from tiles.observed_sentences import OBSERVED

CRAZED = {"zone": "whole", "faults": [{"kind": "crazing", "where": ""}]}
LATE = timedelta(days=30)


def seen(tile, fault="crazing"):
    tile.refresh_from_db()
    return {code: one.is_so for code, one in observations(tile, fault, make.manager()).items()}


def test_every_observation_has_its_words():
    assert set(OBSERVED) == set(OBSERVATIONS)


def test_a_bare_record_knows_next_to_nothing(member):
    """No measure, no bucket, no body, no proved cone, no log: nothing is said of them."""
    tile = make.fired_tile(by=member, layers=[{"glaze": make.glaze(low=None, high=None)}], outcome=CRAZED)
    unknown = {
        "thick",
        "thin",
        "sg_high",
        "sg_low",
        "dusty",
        "fired_over",
        "fired_under",
        "porous",
        "no_hold",
    }
    unknown |= {
        "fast_climb",
        "same_glaze",
        "heavy_colour",
        "contaminated",
        "fit_tension",
        "at_edge",
        "cracked_raw",
    }
    assert unknown.isdisjoint(seen(tile))


@pytest.mark.parametrize(
    ("layer", "said"),
    [
        ({"thickness_mm": "1.8"}, {"thick": True, "thin": False}),
        ({"thickness_mm": "0.2"}, {"thick": False, "thin": True}),
        ({"method": "brush", "coats": 6}, {"thick": True}),
        ({"method": "brush", "coats": 1}, {"thin": True}),
        ({"method": "spray"}, {"sprayed": True}),
        ({"ground": "greenware"}, {"on_greenware": True, "on_fired": False}),
    ],
    ids=str,
)
def test_of_a_layer(member, layer, said):
    found = seen(make.fired_tile(by=member, layers=[{"glaze": make.glaze(), **layer}], outcome=CRAZED))
    assert {code: found.get(code) for code in said} == said


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("dusty", {"dusty": True, "oily": False, "damp": False}),
        ("clean", {"dusty": False, "oily": False, "damp": False}),
        ("", {}),
    ],
)
def test_of_the_ground(member, state, said):
    tile = make.fired_tile(by=member, outcome=CRAZED)
    Layer.objects.filter(tile=tile).update(ground_state=state)
    assert {code: so for code, so in seen(tile).items() if code in ("dusty", "oily", "damp")} == said


@pytest.mark.parametrize(
    ("sg", "high", "low"), [("1.60", True, False), ("1.30", False, True), ("1.45", False, False)]
)
def test_of_the_bucket(member, sg, high, low):
    bucket = make.fill(make.glaze(sg_low="1.40", sg_high="1.50"), sg=sg)
    found = seen(make.fired_tile(by=member, layers=[{"fill": bucket}], outcome=CRAZED))
    assert (found["sg_high"], found["sg_low"], found["old"]) == (high, low, False)


def test_a_flag_raised_later_reaches_back(member):
    bucket = make.fill()
    tile = make.fired_tile(by=member, layers=[{"fill": bucket}], outcome=CRAZED)
    assert "contaminated" not in seen(tile)
    shelf.raise_flag(by=member, fill=bucket, kind="contaminated")
    assert seen(tile)["contaminated"] is True


@pytest.mark.parametrize(
    ("witness", "over", "under"),
    [("8", True, False), ("6", False, False), ("5", False, True), (None, None, None)],
)
def test_of_the_heat(member, witness, over, under):
    """A cone that was only planned proves nothing."""
    tile = make.tile(
        by=member, body=make.body(low="5", high="7"), layers=[{"glaze": make.glaze(low="5", high="6")}]
    )
    cones = [{"position": "top", "cone": make.cone(witness), "bend_degrees": 90}] if witness else None
    make.fire(make.firing(target="6"), tile, witness=cones)
    record_outcome(by=member, tile=tile, **CRAZED)
    found = seen(tile)
    assert (found.get("fired_over"), found.get("fired_under")) == (over, under)
    assert found.get("body_over") is (None if witness is None else witness == "8")


def test_of_what_the_glaze_wants(member):
    tile = make.fired_tile(
        by=member, target="6", layers=[{"glaze": make.glaze(low="9", high="10")}], outcome=CRAZED
    )
    assert (seen(tile)["wants_hotter"], seen(tile)["wants_cooler"]) == (True, False)


@pytest.mark.parametrize(
    ("rate", "fast", "slow"), [(200, True, False), (100, False, False), (30, False, True)]
)
def test_of_the_log(member, rate, fast, slow):
    tile = make.fired_tile(by=member, outcome=CRAZED)
    FiringLog.objects.create(
        firing=Firing.objects.get(tile_firings__tile=tile), readings=pack([], []), rate_c_per_h=rate
    )
    assert (seen(tile)["fast_climb"], seen(tile)["slow_climb"]) == (fast, slow)


@pytest.mark.parametrize(
    ("course", "said"),
    [
        (Course(0, 300), {"no_hold": True, "long_hold": False, "fast_cooling": True, "slow_cooling": False}),
        (Course(60, 40), {"no_hold": False, "long_hold": True, "fast_cooling": False, "slow_cooling": True}),
        (Course(), {}),
    ],
    ids=str,
)
def test_of_hold_and_cooling(member, monkeypatch, course, said):
    """As far as a log's readings tell them; without readings nothing is said."""
    monkeypatch.setattr("tiles.observations.course_of", lambda firing: course)
    codes = ("no_hold", "long_hold", "fast_cooling", "slow_cooling")
    found = seen(make.fired_tile(by=member, outcome=CRAZED))
    assert {code: found[code] for code in codes if code in found} == said


def test_of_the_body_and_its_bisque(member):
    tile = make.tile(by=member, body=make.body(bisque="04", absorption_percent="6"))
    make.fire(make.firing(kind="bisque", target="08"), tile)
    assert (seen(tile)["bisque_low"], seen(tile)["bisque_high"], seen(tile)["porous"]) == (True, False, True)


def test_of_when_and_where_it_was_seen(member):
    at_once = make.fired_tile(by=member, outcome={**CRAZED, "faults": [{"kind": "crazing", "where": "rim"}]})
    assert (seen(at_once)["late"], seen(at_once)["at_edge"], seen(at_once)["at_overlap"]) == (
        False,
        True,
        False,
    )
    later = make.fired_tile(by=member, outcome={"zone": "whole", "surface": "glossy"})
    Firing.objects.filter(tile_firings__tile=later).update(unloaded_at=timezone.now() - LATE)
    later.outcomes.update(looked_on=timezone.localdate() - LATE)
    record_outcome(by=member, tile=later, **CRAZED)
    assert seen(later)["late"] is True


def test_of_the_other_tiles(member):
    glaze = make.glaze()
    for _i in range(3):
        make.fired_tile(layers=[{"glaze": glaze}], outcome=CRAZED)
    tile = make.fired_tile(by=member, layers=[{"glaze": glaze}], outcome=CRAZED)
    assert seen(tile)["same_glaze"] is True
    for _i in range(12):
        make.fired_tile(layers=[{"glaze": glaze}], outcome={"zone": "whole", "surface": "glossy"})
    assert seen(tile)["same_glaze"] is False


def test_of_what_is_in_the_glaze_and_what_stood_near(member):
    copper, plain = make.glaze(), make.glaze()
    GlazeSubstance.objects.create(glaze=copper, substance="Cu", percent="4", read_in="recipe", by=member)
    tiles = [make.tile(by=member, layers=[{"glaze": glaze}]) for glaze in (copper, plain)]
    make.fire(make.firing(), *tiles)
    assert seen(tiles[0])["heavy_colour"] is True
    assert "volatile_near" not in seen(tiles[0])
    assert seen(tiles[1])["volatile_near"] is True


@pytest.mark.parametrize(
    ("minutes", "seconds", "said"),
    [(4, 0, True), (5, 0, None), (10, 0, False), (4, 20, None), (60, 20, None)],
)
def test_coats_were_quick_only_where_somebody_said_when(member, minutes, seconds, said):
    """As the finding before the kiln has it: the moment of logging says nothing of drying."""
    first = (timezone.now() - timedelta(days=2)).replace(second=0, microsecond=0)
    moments = first, first + timedelta(minutes=minutes, seconds=seconds)
    layers = [{"glaze": make.glaze(), "applied_at": moment} for moment in moments]
    found = seen(make.fired_tile(by=member, layers=layers, outcome=CRAZED))
    assert found.get("quick_coats") is said
    assert found["day_between"] is False
