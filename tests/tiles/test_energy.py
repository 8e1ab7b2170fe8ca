"""kWh of a firing: by the meter first, by power and duty with an interval, else no more than at most."""

import numpy as np
import pytest

from tiles.calc.energy import climb_hours, energy


def test_the_climb_ends_with_its_hold_and_drop_outs_do_not_count():
    minutes = np.arange(0, 1200, 10.0)
    celsius = np.concatenate([np.linspace(20, 1222, 61), np.full(6, 1221.0), np.linspace(1200, 300, 53)])
    assert climb_hours(minutes, celsius) == pytest.approx(11)
    celsius[5] = np.nan
    assert climb_hours(minutes, celsius) == pytest.approx(11)
    assert climb_hours(minutes, np.full(120, np.nan)) is None


@pytest.mark.parametrize(
    ("given", "basis", "kwh", "low", "high"),
    [
        ((10, 6, 60), "duty", 36, 28.8, 43.2),
        ((10, 6, 100), "duty", 60, 48, 72),
        ((10, 6, None), "at_most", None, None, 72),
        ((10, 6, 60, 40), "meter", 40, 40, 40),
        ((None, None, None, 0), "meter", 0, 0, 0),
    ],
)
def test_what_is_known_decides(given, basis, kwh, low, high):
    found = energy(*given)
    assert (found.basis, found.kwh, found.low, found.high) == (basis, kwh, low, high)


@pytest.mark.parametrize("given", [(10, None, 60), (None, 6, 60), (0, 6, 60)])
def test_without_power_or_climb_nothing_is_known(given):
    assert energy(*given) is None
