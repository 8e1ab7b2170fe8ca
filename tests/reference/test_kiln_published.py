"""Figures about kilns against what is published; see fixtures/SOURCES.md."""

import pytest

from tiles.calc.kiln_offset import below_end_point_c, tolerance_c
from tiles.calc.opening import published


@pytest.mark.parametrize(
    ("thermocouple", "celsius", "expected"),
    # ASTM E230: https://pelicanwire.com/resources/thermocouple-wire-resources/thermocouple-tolerances
    [
        ("k_standard", 200, 2.2),
        ("k_standard", 1222, 9.165),
        ("k_special", 200, 1.1),
        ("k_special", 1222, 4.888),
        ("s_standard", 500, 1.5),
        ("s_standard", 1222, 3.055),
        ("s_special", 500, 0.6),
        ("s_special", 1222, 1.222),
    ],
)
def test_tolerance_is_the_greater_of_the_two(thermocouple, celsius, expected):
    assert tolerance_c(thermocouple, celsius) == pytest.approx(expected)


def test_a_cone_bends_over_the_published_degrees():
    """27 °F from 1 to 4 o'clock, 8 °F from 4 to 6: http://potters.org/subject60350.htm; an hour is 15 degrees."""
    assert (below_end_point_c(15) - below_end_point_c(60)) * 1.8 == pytest.approx(27)
    assert (below_end_point_c(60) - below_end_point_c(90)) * 1.8 == pytest.approx(8)
    # The whole bend in less than 40 °F: copies of the maker's chart, fixtures/SOURCES.md.
    assert below_end_point_c(0) * 1.8 <= 40


@pytest.mark.parametrize(
    ("fahrenheit", "source"),
    [(200, "hive13"), (250, "hotkilns"), (400, "zaro")],
)
def test_published_openings_are_those_read_in_fahrenheit(fahrenheit, source):
    found = next(figure for figure in published() if source in figure.source)
    assert found.celsius == pytest.approx((fahrenheit - 32) / 1.8, abs=1.5)
