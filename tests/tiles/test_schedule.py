"""A schedule's path: corners, durations worked by hand, and what is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tiles.calc.schedule import ScheduleError, Segment, duration_min, legs, path, segments_of, simulated

rows = st.fixed_dictionaries(
    {"to_c": st.integers(30, 1300), "hold_min": st.integers(1, 120)},
    optional={"rate_c_per_h": st.one_of(st.none(), st.integers(100, 600))},
)


def test_a_bisque_by_hand():
    """80 °C/h from 20 to 120 is 75 min, 15 min stay, 150 °C/h to 1020 is 360 min, 240 °C/h down to 900 is 30."""
    kept = [
        {"rate_c_per_h": 80, "to_c": 120, "hold_min": 15},
        {"rate_c_per_h": 150, "to_c": 1020},
        {"rate_c_per_h": 240, "to_c": 900},
    ]
    minutes, celsius = path(segments_of(kept))
    assert minutes.tolist() == [0, 75, 90, 450, 480]
    assert celsius.tolist() == [20, 120, 120, 1020, 900]
    assert [leg.is_cooling for leg in legs(segments_of(kept))] == [False, False, True]


def test_as_fast_as_it_goes_is_the_kilns_own_speed():
    up, down = Segment(None, 1020), Segment(None, 520)
    assert duration_min([up, down], pace=((1400, 250),), fastest_cooling_c_per_h=50) == 240 + 600
    assert [leg.is_assumed for leg in legs([up, down])] == [True, True]


@settings(max_examples=25)
@given(st.lists(rows, min_size=1, max_size=20))
def test_every_schedule_runs_forwards_and_ends_where_it_says(kept):
    segments = segments_of(kept)
    minutes, celsius = path(segments)
    assert np.all(np.diff(minutes) > 0)
    assert celsius[-1] == segments[-1].to_c
    assert minutes[-1] == pytest.approx(duration_min(segments))
    fine_minutes, fine = simulated(segments, step_min=7)
    assert set(minutes) <= set(fine_minutes)
    assert (fine.max(), fine.min()) == (celsius.max(), celsius.min())
    assert segments_of([segment.as_row() for segment in segments]) == segments


GOOD = {"rate_c_per_h": 100, "to_c": 600, "hold_min": 0}
BAD = [
    ("100 to 600", "not_rows", 0, ""),
    ([3], "not_rows", 0, ""),
    ([], "none", 0, ""),
    ([GOOD] * 21, "too_many", 0, ""),
    ([{**GOOD, "cone": "6"}], "unknown_field", 1, "cone"),
    ([GOOD, {"rate_c_per_h": 60}], "missing", 2, "to_c"),
    ([{**GOOD, "to_c": "600"}], "not_a_number", 1, "to_c"),
    ([{**GOOD, "to_c": True}], "not_a_number", 1, "to_c"),
    ([{**GOOD, "to_c": float("nan")}], "not_a_number", 1, "to_c"),
    ([{**GOOD, "hold_min": float("inf")}], "not_a_number", 1, "hold_min"),
    ([{**GOOD, "rate_c_per_h": 0}], "out_of_range", 1, "rate_c_per_h"),
    ([{**GOOD, "rate_c_per_h": -60}], "out_of_range", 1, "rate_c_per_h"),
    ([{**GOOD, "to_c": 2232}], "out_of_range", 1, "to_c"),
    ([{**GOOD, "hold_min": -1}], "out_of_range", 1, "hold_min"),
    ([GOOD, GOOD], "goes_nowhere", 2, "to_c"),
    ([{"rate_c_per_h": 1, "to_c": 1000}], "too_long", 0, ""),
]


@pytest.mark.parametrize(
    ("kept", "code", "row", "field"), BAD, ids=[f"{b[1]}-{n}" for n, b in enumerate(BAD)]
)
def test_what_cannot_be_is_refused_by_its_row(kept, code, row, field):
    with pytest.raises(ScheduleError) as caught:
        segments_of(kept)
    assert (caught.value.code, caught.value.row, caught.value.field) == (code, row, field)
