"""A tile's cone by the best evidence: witness here, witnesses of the firing, log, plan.

A cone is down at 90 degrees, 6 o'clock, tip level with its base: T. Frederich,
http://potters.org/subject60350.htm; Dodd & Murfin, Dictionary of Ceramics.
"""

import pytest

from inventory.calc.cones import Cone
from tiles.calc.witness import (
    TileCone,
    WitnessReading,
    WitnessResult,
    clock_to_degrees,
    cone_by_witness,
    tile_cone,
)

FOUR, FIVE, SIX, SEVEN, TEN = (Cone.parse(code) for code in ("4", "5", "6", "7", "10"))


def seen(position, *bends):
    return [WitnessReading(position, cone, bend) for cone, bend in bends]


def asked(position="", readings=(), log_cone=None, target=None, fired=True, stopped_early=False):
    return tile_cone(position, list(readings), log_cone, target, fired, stopped_early)


@pytest.mark.parametrize(
    ("readings", "result"),
    [
        ([], None),
        (seen("top", (FIVE, None), (SIX, None)), None),
        (seen("top", (FIVE, 100), (SIX, 90), (SEVEN, 89)), WitnessResult(SIX)),
        (seen("top", (SIX, 89), (SEVEN, 5)), WitnessResult(None, below=SIX)),
        (seen("top", (FIVE, None), (SIX, 20)), WitnessResult(None, below=SIX)),
    ],
)
def test_the_hottest_cone_down(readings, result):
    assert cone_by_witness(readings) == result


TOP_SIX = seen("top", (FIVE, 120), (SIX, 95), (SEVEN, 20))
BOTTOM_FIVE = seen("bottom", (FIVE, 90), (SIX, 40))
BOTTOM_SHORT = seen("bottom", (FIVE, 60), (SIX, 10))


def test_its_own_position_speaks_first():
    found = asked("top", TOP_SIX + BOTTOM_FIVE, log_cone=TEN, target=TEN)
    assert found == TileCone(SIX, "witness_here")


@pytest.mark.parametrize("position", ["", "middle"])
def test_elsewhere_counts_what_the_whole_load_certainly_saw(position):
    assert asked(position, TOP_SIX + BOTTOM_FIVE, log_cone=TEN) == TileCone(FIVE, "witness_firing")


def test_cones_without_a_noted_place_belong_to_the_firing_not_to_a_tile_without_a_place():
    assert asked("", seen("", (SIX, 90))) == TileCone(SIX, "witness_firing")


def test_one_place_where_none_fell_leaves_the_load_unproved():
    assert asked("", TOP_SIX + BOTTOM_SHORT, target=SIX) == TileCone(None, "witness_short", below=FIVE)
    assert asked("top", TOP_SIX + BOTTOM_SHORT) == TileCone(SIX, "witness_here")
    both_short = BOTTOM_SHORT + seen("top", (SEVEN, 50))
    assert asked("", both_short) == TileCone(None, "witness_short", below=FIVE)


def test_standing_witnesses_are_never_overruled_by_log_or_plan():
    found = asked("bottom", TOP_SIX + BOTTOM_SHORT, log_cone=SIX, target=SIX)
    assert found == TileCone(None, "witness_short", below=FIVE)


def test_unread_witnesses_give_way_to_the_log_and_the_log_to_the_plan():
    unread = seen("top", (SIX, None))
    assert asked("top", unread + BOTTOM_FIVE) == TileCone(FIVE, "witness_firing")
    assert asked("top", unread, log_cone=FIVE, target=SIX) == TileCone(FIVE, "log")
    assert asked("top", unread, target=SIX) == TileCone(SIX, "planned")


@pytest.mark.parametrize("state", [{"fired": False}, {"stopped_early": True}])
def test_a_plan_counts_only_when_it_was_fired_to_its_end(state):
    assert asked(target=SIX, **state) == TileCone(None, "")
    assert asked(target=SIX, log_cone=FOUR, **state) == TileCone(FOUR, "log")


@pytest.mark.parametrize(
    ("hours", "degrees"), [(12, 0), (0, 0), (12.5, 7), (1, 15), (3, 45), (5.99, 89), (6, 90), (7, 105)]
)
def test_clock_face(hours, degrees):
    assert clock_to_degrees(hours) == degrees


@pytest.mark.parametrize("hours", [-1, 13, float("nan")])
def test_no_such_hour(hours):
    with pytest.raises(ValueError, match="not_on_the_clock"):
        clock_to_degrees(hours)
