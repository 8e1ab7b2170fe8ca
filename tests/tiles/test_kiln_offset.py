"""The offset of a shelf: learnt from cones whose bend is made up by rules of this file's own."""

import math

import numpy as np
import pytest

from inventory.calc.cones import Cone, celsius_at_60
from tiles.calc.kiln_offset import (
    REACH_C,
    ConeSeen,
    below_end_point_c,
    shelf_offset,
    shift_that_fells,
    tolerance_c,
)

SIX = Cone.parse("6")


def simple_dose(minutes, celsius, cone, cone_type="self_supporting"):
    """Stand-in for heat work: the rate of bending grows by e every 12 °C; 1 at the end of a ramp of 60 °C/h."""
    end = celsius_at_60(cone)
    rate = np.exp((np.asarray(celsius) - end) / 12)
    return float(np.trapezoid(rate, minutes)) / 12  # 12 °C at 60 °C/h are 12 minutes


def ramp(to):
    minutes = np.arange(0, to - 20 + 1.0)
    return minutes, 20 + minutes


def bend_of(celsius, end, rng):
    """T. Frederich, http://potters.org/subject60350.htm, straight between his points; read to 5 degrees."""
    # In °F, as he gives them; his course is that of one cone, so others bend over a longer or shorter way.
    short = (end - celsius) * 1.8 / max(rng.normal(1, 0.25), 0.3)
    if short <= 0:
        return 90
    if short <= 8:
        degrees = 90 - 30 * short / 8
    elif short <= 35:
        degrees = 60 - 45 * (short - 8) / 27
    else:
        degrees = max(0.0, 15 - 15 * (short - 35) / 5)
    if degrees <= 0:
        return 0
    return int(np.clip(5 * round((degrees + rng.normal(0, 8)) / 5), 0, 90))


def one_kiln(rng):
    """True offset, and what its cones showed in one to six firings to about cone 6."""
    truth = rng.normal(0, math.hypot(tolerance_c("k_standard", 1200) / math.sqrt(3), 20))
    seen = []
    for firing in range(rng.integers(1, 7)):
        there = rng.normal(truth, 4)
        peak = 1222 + rng.uniform(-8, 8)
        for code in ("5", "6", "7"):
            end = celsius_at_60(Cone.parse(code))
            model = rng.normal(0, 2)
            end_of_this = end + rng.uniform(-2, 2) + model
            seen.append(ConeSeen(firing, "middle", bend_of(peak + there, end_of_this, rng), end - peak))
    return truth, seen


def test_the_interval_holds_the_truth_four_times_in_five():
    rng = np.random.default_rng(6)
    held = 0
    for _n in range(500):
        truth, seen = one_kiln(rng)
        found = shelf_offset("middle", seen, "k_standard")
        held += found.low_c <= truth <= found.high_c
    assert 0.75 <= held / 500 <= 0.85


def test_the_log_is_shifted_until_the_cone_is_just_down():
    minutes, celsius = ramp(1222 - 17)
    assert shift_that_fells(minutes, celsius, SIX, "self_supporting", simple_dose) == pytest.approx(
        17, abs=0.5
    )
    assert shift_that_fells(minutes, celsius, Cone.parse("04"), "self_supporting", simple_dose) is None
    assert shift_that_fells([], [], SIX, "self_supporting", simple_dose) is None


def test_a_log_without_some_readings_says_the_same():
    minutes, celsius = ramp(1210)
    gone = celsius.copy()
    gone[100:140] = np.nan
    whole = shift_that_fells(minutes, celsius, SIX, "self_supporting", simple_dose)
    assert shift_that_fells(minutes, gone, SIX, "self_supporting", simple_dose) == whole


def test_down_is_a_lower_bound_and_standing_an_upper_one():
    nothing = shelf_offset("top", [])
    down = shelf_offset("top", [ConeSeen(1, "top", 90, 5)])
    stands = shelf_offset("top", [ConeSeen(1, "top", 0, 5)])
    half = shelf_offset("top", [ConeSeen(1, "top", 60, 5)])
    assert down.low_c > 0
    assert down.high_c > nothing.high_c, "how much more is not known"
    assert stands.high_c < 5 - below_end_point_c(10) + 8 < nothing.high_c
    # 4 o'clock is 8 °F short of the end point: the same source.
    assert half.median_c == pytest.approx(5 - 8 / 1.8, abs=1)
    assert half.high_c - half.low_c < (down.high_c - down.low_c) / 2


def test_more_firings_say_it_closer_and_another_shelf_says_nothing():
    widths = [
        found.high_c - found.low_c
        for n in (0, 1, 4, 16)
        for found in [shelf_offset("top", [ConeSeen(i, "top", 75, -9) for i in range(n)])]
    ]
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] < 4
    assert shelf_offset("top", [ConeSeen(1, "bottom", 60, 30)]) == shelf_offset("top", [])


def test_three_cones_of_one_firing_are_not_three_firings():
    once = shelf_offset("top", [ConeSeen(1, "top", 70, 0)] * 3)
    thrice = shelf_offset("top", [ConeSeen(n, "top", 70, 0) for n in range(3)])
    assert (once.firings, thrice.firings) == (1, 3)
    assert thrice.high_c - thrice.low_c < once.high_c - once.low_c


def test_one_slip_of_the_hand_does_not_carry_the_rest_away():
    good = [ConeSeen(n, "top", 60, 10) for n in range(5)]
    slipped = shelf_offset("top", [*good, ConeSeen(9, "top", 90, REACH_C - 10)])
    assert slipped.median_c == pytest.approx(shelf_offset("top", good).median_c, abs=3)


@pytest.mark.parametrize(
    ("thermocouple", "celsius", "expected"),
    # ASTM E230 at https://pelicanwire.com/resources/thermocouple-wire-resources/thermocouple-tolerances
    [("k_standard", 1000, 7.5), ("k_special", 100, 1.1), ("s_special", 1000, 1.0), ("other", 1000, 7.5)],
)
def test_tolerances_are_the_published_ones(thermocouple, celsius, expected):
    assert tolerance_c(thermocouple, celsius) == pytest.approx(expected)
