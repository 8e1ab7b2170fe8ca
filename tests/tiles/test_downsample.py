"""A long log on a small screen: whatever is left out, the ends, the hottest, the coolest and the gaps stay."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tiles.calc.downsample import FEWEST, downsample

steps = st.lists(st.floats(0, 30), min_size=1, max_size=400)


@settings(max_examples=25)
@given(data=st.data(), steps=steps, points=st.integers(FEWEST, 60), silent=st.booleans())
def test_ends_and_extremes_survive(data, steps, points, silent):
    minutes = np.cumsum(steps)
    said = st.floats(-20, 1400)
    reading = st.one_of(said, st.just(float("nan"))) if silent else said
    celsius = np.array(data.draw(st.lists(reading, min_size=len(steps), max_size=len(steps))))
    few_minutes, few = downsample(minutes, celsius, points)
    assert len(few) <= points or len(celsius) <= points
    assert (few_minutes[0], few_minutes[-1]) == (minutes[0], minutes[-1])
    np.testing.assert_equal((few[0], few[-1]), (celsius[0], celsius[-1]))
    assert np.isnan(few).any() == np.isnan(celsius).any()
    if not np.isnan(celsius).all():
        assert (np.nanmax(few), np.nanmin(few)) == (np.nanmax(celsius), np.nanmin(celsius))
    # Nothing is invented: what is left stood in the log, in its order.
    pairs = [*zip(minutes, celsius, strict=True)]
    left = iter(map(repr, pairs))
    assert all(repr(pair) in left for pair in zip(few_minutes, few, strict=True))


def test_a_spike_of_one_second_in_a_day_is_drawn():
    celsius = np.full(86400, 800.0)
    celsius[51234], celsius[70001] = 1300, 30
    _minutes, few = downsample(np.arange(86400) / 60, celsius, 240)
    assert {1300, 30} <= set(few)
    assert len(few) <= 240


@pytest.mark.parametrize(
    ("minutes", "celsius", "points", "said"),
    [
        ([0, 1], [20], 10, "for each minute"),
        ([*range(20, 0, -1)], [20] * 20, 10, "backwards"),
        ([0, 1], [20, 20], 7, "at least 8"),
    ],
)
def test_what_cannot_be_drawn_is_refused(minutes, celsius, points, said):
    with pytest.raises(ValueError, match=said):
        downsample(minutes, celsius, points)
