"""Cones against the maker's published charts (fixtures/cones.csv; sources: fixtures/SOURCES.md)."""

import csv
import re
from itertools import groupby, pairwise

import pytest

from inventory.calc.cones import SELF_SUPPORTING, TABLE, Cone, celsius, celsius_at_60

with TABLE.open(newline="", encoding="utf-8") as lines:
    ROWS = list(csv.DictReader(lines))

# The order of the charts themselves, coolest first (copies of the maker's charts, see SOURCES.md).
CHART_ORDER = re.findall(
    r"\S+",
    """
    022 021 020 019 018 017 016 015 014 013 012 011 010 09 08 07 06 05.5 05 04 03 02 01
    1 2 3 4 5 5.5 6 7 8 9 10 11 12 13 14
    """,
)


def test_every_published_code_reads_and_prints_back():
    assert len(ROWS) == 241
    assert {row["cone"] for row in ROWS} == {*CHART_ORDER, "03.5"}  # 03.5: the older chart only
    for row in ROWS:
        cone = Cone.parse(row["cone"])
        assert cone.code == row["cone"]
        assert celsius(cone, row["type"], int(row["rate_c_per_h"])) == int(row["temp_c"])


def test_ranks_rise_in_the_order_of_the_charts():
    cones = [Cone.parse(code) for code in CHART_ORDER]
    assert cones == sorted(set(cones))


def test_a_hotter_cone_never_has_a_cooler_end_point_at_one_type_and_rate():
    def column(row):
        return row["type"], int(row["rate_c_per_h"])

    for _, rows in groupby(sorted(ROWS, key=column), key=column):
        by_rank = sorted(rows, key=lambda row: Cone.parse(row["cone"]))
        degrees = [int(row["temp_c"]) for row in by_rank]
        assert all(cooler <= hotter for cooler, hotter in pairwise(degrees))


def test_a_faster_climb_never_bends_a_cone_at_a_lower_temperature():
    """Holds in every chart read: heat work needs time or temperature."""
    for cone in Cone.all():
        slow_to_fast = [celsius(cone, SELF_SUPPORTING, rate) for rate in (15, 60, 150)]
        known = [degrees for degrees in slow_to_fast if degrees is not None]
        assert known == sorted(known)


def fahrenheit(degrees_c):
    return round(degrees_c * 9 / 5 + 32)


@pytest.mark.parametrize(
    ("code", "cone_type", "rate_c_per_h", "degrees_f"),
    [
        # Controller manual p. 24: https://manualshive.com/en/manual/bartlett/700-series/3966174?page=25
        ("04", SELF_SUPPORTING, 60, 1945),
        ("6", SELF_SUPPORTING, 60, 2232),
        # A supplier's chart in °F at 108 and 270 °F/h, quoted at http://www.potters.org/subject91937.htm
        ("06", "large regular", 60, 1823),
        ("06", "large regular", 150, 1852),
        ("01", "large regular", 60, 2043),
        ("01", "large regular", 150, 2079),
        ("1", "large regular", 60, 2077),
        ("1", "large regular", 150, 2109),
        ("6", "large regular", 60, 2228),
        ("6", "large regular", 150, 2266),
    ],
)
def test_end_points_printed_in_fahrenheit(code, cone_type, rate_c_per_h, degrees_f):
    assert fahrenheit(celsius(Cone.parse(code), cone_type, rate_c_per_h)) == degrees_f


def test_cone_13_as_its_seller_prints_it():
    """1331-1348 °C: https://cebex.se/ortonkagla1313311348c-p-7112.html"""
    thirteen = Cone.parse("13")
    assert (celsius_at_60(thirteen), celsius(thirteen, SELF_SUPPORTING, 150)) == (1331, 1348)


def test_halves_have_an_end_point_only_where_one_is_published():
    halves = [cone.code for cone in Cone.all() if cone.is_half and celsius_at_60(cone) is not None]
    assert halves == ["05.5", "5.5"]
    assert all(celsius_at_60(cone) for cone in Cone.all() if not cone.is_half)
