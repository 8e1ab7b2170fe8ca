"""What a log tells of a firing besides its cone: the hold at the top, and how fast it cooled at first."""

import pytest

from tests import make
from tests.tiles.curve_logs import logged
from tiles.course import Course, course_of

pytestmark = pytest.mark.django_db


def plan(hold_min):
    return [
        {"rate_c_per_h": 150, "to_c": 1100, "hold_min": 0},
        {"rate_c_per_h": 60, "to_c": 1222, "hold_min": hold_min},
    ]


@pytest.mark.parametrize("hold_min", [0, 20, 60])
def test_hold_and_cooling_are_those_of_the_readings(hold_min):
    """Logged with 100 °C/h of cooling. A swing of 3 °C about the peak counts as holding, which is 3 minutes at most."""
    course = course_of(logged(make.firing(plan=plan(hold_min))))
    assert course.hold_minutes == pytest.approx(hold_min, abs=3.5)
    assert course.cooling_c_per_h == pytest.approx(100, abs=2)


def test_nothing_is_told_without_a_log_or_by_one_that_ends_at_the_top():
    assert course_of(make.firing(plan=plan(0))) == Course()
    assert course_of(logged(make.firing(plan=plan(20)), cooling_h=1)).cooling_c_per_h is None
