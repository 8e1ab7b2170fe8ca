"""Readings are kept small, come back as they were, and make one log in whatever order they come."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tiles.log_files import readings
from tiles.calc.readings import (
    LONGEST_S,
    ReadingsError,
    fahrenheit_to_celsius,
    merge,
    one_for_each_second,
    pack,
    unpack,
)

TEMPERATURES = st.floats(-50, 1500) | st.just(float("nan"))
LOGS = st.dictionaries(st.integers(0, LONGEST_S), TEMPERATURES, max_size=60).map(
    lambda found: sorted(found.items())
)


def columns(log):
    seconds = np.array([s for s, _c in log], dtype=np.int64)
    return seconds, np.array([c for _s, c in log], dtype=float)


@settings(max_examples=25)
@given(LOGS)
def test_what_is_packed_comes_back_to_a_tenth_of_a_degree(log):
    seconds, celsius = columns(log)
    again, said = unpack(pack(seconds, celsius))
    assert again.tolist() == seconds.tolist()
    assert np.array_equal(np.isnan(said), np.isnan(celsius))
    assert np.nan_to_num(np.abs(said - celsius)).max(initial=0) <= 0.0501


@settings(max_examples=25)
@given(LOGS, LOGS, LOGS)
def test_in_whatever_order_and_however_often_they_come_they_are_one_log(a, b, c):
    one, two, three = (merge(([], []), columns(log)) for log in (a, b, c))
    whole = merge(merge(one, two), three)
    for other in (
        merge(merge(three, one), two),
        merge(one, merge(two, merge(three, two))),
        merge(whole, two),
    ):
        assert other[0].tolist() == whole[0].tolist()
        assert np.array_equal(other[1], whole[1], equal_nan=True)


def test_a_reading_takes_two_bytes_at_most():
    seconds, celsius = columns(readings())
    noise = np.random.default_rng(6).normal(0, 0.4, seconds.size)
    assert len(pack(seconds, celsius + noise)) < 2 * seconds.size
    assert len(pack(np.arange(200_000), np.full(200_000, 1222.0))) < 2000


@pytest.mark.parametrize(
    ("seconds", "celsius", "code"),
    [
        ([0, 1], [20], "lengths"),
        ([1, 1], [20, 20], "not_rising"),
        ([-1, 1], [20, 20], "not_rising"),
        ([0, LONGEST_S + 1], [20, 20], "not_rising"),
        ([0], [1501], "out_of_range"),
        ([0], [float("inf")], "out_of_range"),
    ],
)
def test_what_cannot_be_kept_is_refused(seconds, celsius, code):
    with pytest.raises(ReadingsError, match=code):
        pack(seconds, celsius)


@pytest.mark.parametrize("data", [b"", b"0", b"1not packed", pack([0], [20])[:-3]])
def test_damaged_bytes_are_said_to_be(data):
    with pytest.raises(ReadingsError, match="damaged"):
        unpack(data)


def test_of_one_second_the_hottest_stays_and_any_before_none():
    seconds, celsius = one_for_each_second([5, 5, 7], [float("nan"), 20, float("nan")])
    assert (seconds.tolist(), celsius[0], np.isnan(celsius[1])) == ([5, 7], 20, True)


def test_degrees_fahrenheit():
    """Fixed points: water freezes at 32 °F, boils at 212 °F; quartz turns at 573 °C, 1063 °F (reference)."""
    assert fahrenheit_to_celsius([32, 212, 1063]).round().tolist() == [0, 100, 573]
