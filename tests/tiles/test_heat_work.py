"""What a log's cone must and must not depend on, and what cannot be reckoned."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.calc.cones import Cone
from tiles.calc import cone_rates, heat_findings
from tiles.calc.heat_work import HeatWorkError, approach, dose, end_point_c, heat_work
from tiles.calc.hot_time import time_in_cells

SIX = Cone.parse("6")


def firing(peak_c=1222.0, rate=60.0, hold=10.0, fall=150.0, every=1.0):
    """Minutes and °C of a climb, a hold and a fall to 400 °C, one reading for each `every` minutes."""
    up = (peak_c - 20) / rate * 60
    corners = [0, up, up + hold, up + hold + (peak_c - 400) / fall * 60]
    minutes = np.unique(np.append(np.arange(0, corners[-1], every), corners))
    return minutes, np.interp(minutes, corners, [20, peak_c, peak_c, 400])


def place(found):
    """The answer as one number on the scale of whole cones."""
    return -99.0 if found.cone is None else found.cone.rank / 2 + (found.fraction or 0)


firings = st.builds(
    firing,
    peak_c=st.floats(620, 1370),
    rate=st.floats(15, 300),
    hold=st.floats(0, 120),
    fall=st.floats(40, 400),
    every=st.sampled_from([1.0, 7.0]),
)
few = settings(max_examples=25, deadline=None)


@few
@given(firings, st.data())
def test_a_reading_more_on_the_line_changes_nothing(log, data):
    minutes, celsius = log
    extra = data.draw(st.lists(st.floats(0, float(minutes[-1])), min_size=1, max_size=20))
    denser = np.sort(np.append(minutes, extra))
    before, after = heat_work(minutes, celsius), heat_work(denser, np.interp(denser, minutes, celsius))
    assert (after.cone, after.low, after.high) == (before.cone, before.low, before.high)
    assert [d for _, d in after.doses] == pytest.approx([d for _, d in before.doses], rel=1e-6, abs=1e-12)


@few
@given(firings, st.data())
def test_the_doses_of_two_parts_are_those_of_the_whole(log, data):
    minutes, celsius = log
    at = data.draw(st.integers(1, len(minutes) - 2))
    parts = dose(minutes[: at + 1], celsius[: at + 1], SIX) + dose(minutes[at:], celsius[at:], SIX)
    assert parts == pytest.approx(dose(minutes, celsius, SIX), rel=1e-9, abs=1e-15)


@few
@given(firings, st.floats(0.1, 600))
def test_time_at_the_peak_never_lowers_the_answer(log, longer):
    minutes, celsius = log
    peak = int(np.argmax(celsius))
    later = np.concatenate([minutes[: peak + 1], minutes[peak:] + longer])
    held = np.concatenate([celsius[: peak + 1], celsius[peak:]])
    before, after = heat_work(minutes, celsius), heat_work(later, held)
    assert place(after) >= place(before)
    for end in ("low", "high"):
        old, new = getattr(before, end), getattr(after, end)
        assert old is None or new >= old


@few
@given(firings)
def test_fahrenheit_and_celsius_agree(log):
    minutes, celsius = log
    fahrenheit = celsius * 9 / 5 + 32
    before, after = heat_work(minutes, celsius), heat_work(minutes, (fahrenheit - 32) * 5 / 9)
    assert place(after) == pytest.approx(place(before), abs=1e-6)


@pytest.mark.parametrize("peak_c", [900.0, 1063.0, 1222.0, 1290.0])
@pytest.mark.parametrize("noise", [0.0, 1.0])
def test_a_reading_a_minute_says_the_same_as_one_a_second(peak_c, noise):
    minutes, celsius = firing(peak_c, hold=12, every=1 / 60)
    celsius = celsius + np.random.default_rng(6).normal(0, noise, len(celsius))
    every_second, every_minute = heat_work(minutes, celsius), heat_work(minutes[::60], celsius[::60])
    assert place(every_minute) == pytest.approx(place(every_second), abs=0.05)


def test_what_is_cooler_than_red_heat_changes_nothing():
    minutes, celsius = firing()
    slow_start = np.concatenate([[0, 5000], 5000 + minutes[celsius > 480]])
    cold = np.concatenate([[480, 20], celsius[celsius > 480]])
    assert dose(slow_start, cold, SIX) == pytest.approx(dose(minutes, celsius, SIX), rel=1e-9)
    assert heat_work([0, 10_000], [499, 499]).doses[0][1] == 0


@few
@given(firings)
def test_the_interval_holds_the_answer_and_the_doses_fall_from_cone_to_cone(log):
    found = heat_work(*log)
    doses = [d for _, d in found.doses]
    assert doses == sorted(doses, reverse=True)
    if found.cone:
        assert found.low is None or found.low <= found.cone
        assert found.high >= found.cone
        assert found.fraction is None or 0 <= found.fraction <= 1


def test_the_fraction_runs_from_one_cone_to_the_next_without_a_step():
    """Even in temperature under a steady climb: half-way between two end points is half of the way."""
    six, seven = end_point_c(SIX, 60), end_point_c(Cone.parse("7"), 60)
    middle = heat_work([0, (six + seven) / 2 - 20], [20, (six + seven) / 2])
    assert (middle.cone, middle.fraction) == (SIX, pytest.approx(0.5, abs=0.03))
    just = heat_work([0, six - 20 + 0.1], [20, six + 0.1])
    assert (just.cone, just.fraction) == (SIX, pytest.approx(0, abs=0.02))
    almost = heat_work([0, seven - 20 - 0.1], [20, seven - 0.1])
    assert (almost.cone, almost.fraction) == (SIX, pytest.approx(1, abs=0.02))


def test_the_running_approach_ends_where_the_log_does():
    minutes, celsius = firing()
    at, ranks = approach(minutes, celsius)
    found = heat_work(minutes, celsius)
    assert at[-1] == minutes[-1]
    assert ranks[-1] == pytest.approx(found.cone.rank + 2 * found.fraction, abs=1e-6)
    known = ranks[~np.isnan(ranks)]
    assert np.isnan(ranks[0])
    assert known[0] < Cone.parse("021").rank + 0.5
    assert (np.diff(known) >= -1e-9).all()
    assert [len(part) for part in approach([0, 60], [20, 300])] == [0, 0]


def test_the_climb_is_read_below_the_peak_and_not_out_of_the_hold():
    for rate in (20, 60, 150):
        assert heat_work(*firing(rate=rate, hold=90)).rate_c_per_h == pytest.approx(rate, rel=0.02)
    wavering = [0, 10, 600, 660, 700, 800]
    assert heat_work(wavering, [20, 700, 1150, 1000, 1100, 1200]).rate_c_per_h == pytest.approx(60, rel=0.01)


def codes(minutes, celsius, cone_type="self_supporting"):
    return {finding.code for finding in heat_work(minutes, celsius, cone_type).findings}


def test_each_finding_is_said_of_its_log_and_not_of_a_plain_one():
    plain = codes(*firing(peak_c=1222, hold=0))
    assert plain == set()
    minutes, celsius = firing(peak_c=1222, hold=0)
    hottest = int(np.argmax(celsius))
    kept = np.r_[: hottest - 20, hottest : len(minutes)]
    said = {
        "below_first_red": ([0, 60], [20, 480]),
        "below_coolest_cone": firing(peak_c=540),
        "beyond_hottest_cone": firing(peak_c=1400),
        "ends_at_peak": (minutes[: hottest + 1], celsius[: hottest + 1]),
        "climb_not_seen": (minutes[hottest - 50 :], celsius[hottest - 50 :]),
        "gap_near_peak": (minutes[kept], celsius[kept]),
        "jump_near_peak": (minutes, np.where(np.arange(len(minutes)) == hottest - 5, 1400.0, celsius)),
        "rate_outside_table": firing(rate=300, hold=0),
        "hold_is_estimate": firing(hold=30),
        "iron_in_cones": firing(peak_c=1063, hold=0),
    }  # fmt: skip
    assert said.keys() == heat_findings.RULES.keys()
    for code, log in said.items():
        assert code in codes(*log), code


def test_a_rate_is_judged_by_what_is_published_for_that_cone():
    """022-020 have no cell at 15 °C/h, small cones only one at 300 (fixtures/cones.csv)."""
    slow_and_cool = firing(peak_c=640, rate=30, hold=0)
    assert "rate_outside_table" in codes(*slow_and_cool)
    assert "rate_outside_table" not in codes(*firing(peak_c=1222, rate=30, hold=0))
    assert "rate_outside_table" in codes(*firing(peak_c=900, rate=60, hold=0), "small")
    assert "rate_outside_table" not in codes(*firing(peak_c=900, rate=300, hold=0), "small")


def test_readings_that_are_not_there_are_passed_over():
    minutes, celsius = firing()
    holes = celsius.copy()
    holes[np.arange(len(holes)) % 7 == 3] = np.nan
    holes[0] = holes[-1] = np.nan
    assert place(heat_work(minutes, holes)) == pytest.approx(place(heat_work(minutes, celsius)), abs=0.02)


@pytest.mark.parametrize(
    ("minutes", "celsius", "code", "params"),
    [
        ([], [], "no_readings", {}),
        ([0, 1], [np.nan, np.nan], "no_readings", {}),
        ([0, 1, 2], [20, 30], "lengths_differ", {"minutes": 3, "celsius": 2}),
        ([0, np.nan], [20, 30], "not_a_time", {"row": 2}),
        ([0, np.inf], [20, 30], "not_a_time", {"row": 2}),
        ([0, 5, 6, 4], [20, np.nan, 30, 40], "times_backwards", {"row": 4, "value": 4}),
        ([0, 1e300], [1000, 1000], "too_long", {}),
        ([0, 1], [20, 1e9], "not_a_temperature", {"row": 2, "value": 1e9}),
        ([0, 1], [20, -300], "not_a_temperature", {"row": 2, "value": -300}),
        ([0, 1], [20, np.inf], "not_a_temperature", {"row": 2}),
    ],
)
def test_what_cannot_be_reckoned_says_which_reading(minutes, celsius, code, params):
    with pytest.raises(HeatWorkError) as caught:
        heat_work(minutes, celsius)
    assert caught.value.code == code
    assert {name: caught.value.params[name] for name in params} == params


def test_a_cone_a_type_or_a_rate_that_is_not_in_the_table_is_refused():
    for call, code in (
        (lambda: heat_work([0], [20], "tiny"), "unknown_cone_type"),
        (lambda: dose([0], [20], Cone.parse("4.5")), "unknown_cone"),
        (lambda: end_point_c(Cone.parse("13"), 60, "large"), "unknown_cone"),
        (lambda: end_point_c(SIX, 0.5), "rate_out_of_range"),
        (lambda: end_point_c(SIX, float("nan")), "rate_out_of_range"),
    ):
        with pytest.raises(HeatWorkError) as caught:
            call()
        assert caught.value.code == code


def test_one_reading_is_a_log_without_a_cone():
    found = heat_work([0], [1222])
    assert (found.cone, found.fraction, found.peak_c, found.rate_c_per_h) == (None, None, 1222, None)


def test_rounding_leaves_no_time_where_the_kiln_never_was():
    """A trace of 1e-15 minutes at 1500 °C would bend hundreds of cones."""
    minutes, celsius = firing(620, rate=15, hold=0, fall=40)
    spent = time_in_cells(minutes, celsius)
    assert not spent[601:].any()
    assert spent.sum() == pytest.approx(120 / 15 * 60 + 120 / 40 * 60)


def test_hotter_than_any_cone_still_counts_time_once():
    times, degrees = np.array([0.0, 10.0, 20.0]), np.array([1400.0, 1600.0, 1600.0])
    spent = time_in_cells(times, degrees)
    assert spent.sum() == pytest.approx(20)
    assert spent[-1] == pytest.approx(15, abs=0.05)
    assert len(spent) == cone_rates.CELLS
