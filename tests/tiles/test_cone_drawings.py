"""The drawn cones: as long as each other, upright at 0, and at 90 degrees with the tip level with the base.

Source of the last: T. Frederich, http://potters.org/subject60350.htm; Dodd & Murfin, Dictionary of Ceramics.
"""

import math

import pytest

from tiles.calc.witness import clock_to_degrees, degrees_to_clock
from tiles.cone_drawings import BASE_Y, HEIGHT, LENGTH, SHOWN, WIDTH, bent_cone, spine


@pytest.mark.parametrize("degrees", SHOWN)
def test_the_tip_is_seen_from_the_base_at_the_angle_that_is_named(degrees):
    x, y, turned = spine(degrees, 1)
    assert math.degrees(math.atan2(x, y)) == pytest.approx(degrees)
    # And points where the hand of a clock does: 30 degrees to each hour.
    assert math.degrees(turned) == pytest.approx(30 * degrees_to_clock(degrees))
    steps = [spine(degrees, n / 500)[:2] for n in range(501)]
    assert sum(map(math.dist, steps, steps[1:])) == pytest.approx(LENGTH, rel=1e-4)


@pytest.mark.parametrize(("degrees", "hour"), [*zip(SHOWN, ["12", "2", "3", "4", "5", "6"], strict=True)])
def test_each_drawing_names_its_hour_and_stays_on_its_paper(degrees, hour):
    cone = bent_cone(degrees)
    assert cone.hour == hour
    assert clock_to_degrees(float(hour)) == degrees
    points = [float(n) for n in cone.outline.strip("MZ").split()]
    assert all(0 <= x <= WIDTH for x in points[::2])
    assert all(0 <= y <= HEIGHT for y in points[1::2])


def test_at_ninety_the_tip_is_level_with_the_base_and_below_that_it_is_not():
    assert bent_cone(90).tip[1] == pytest.approx(BASE_Y)
    assert bent_cone(75).tip[1] < BASE_Y - 5
