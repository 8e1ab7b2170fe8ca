"""What to programme for a true cone: never more than a cone hotter, never past a limit, nothing without evidence."""

import pytest

from inventory.calc.cones import Cone
from tiles.calc.kiln_offset import ShelfOffset
from tiles.calc.programme import Limit, cone_at, programme
from tiles.kiln_sentences import advice_words


def shelf(median, *, half=4.0, position="middle", cones=9):
    return ShelfOffset(position, median, median, median - half, median + half, 3, cones)


def advice(asked="6", median=-8.0, *, kiln="8", load=(), others=(), **fields):
    at = shelf(median, **fields)
    limits = [Limit(Cone.parse(cone), name) for name, cone in load]
    return programme(Cone.parse(asked), at, [at, *others], kiln and Cone.parse(kiln), limits)


def test_a_shelf_that_is_cooler_is_set_hotter_by_as_much():
    found = advice()
    # Cone 6 ends at 1222 and 7 at 1239 °C (60 °C/h, fixtures/cones.csv): 8 of 17 °C.
    assert (found.code, found.shift_c, found.low_c, found.high_c) == ("", 8, 4, 12)
    assert (found.at.cone.code, found.at.next.code) == ("6", "7")
    assert found.at.fraction == pytest.approx(8 / 17)


def test_a_shelf_that_is_hotter_is_set_cooler():
    found = advice(median=18)
    # 1204 °C lies half way from 5 (1186) to 6 (1222).
    assert (found.shift_c, found.at.cone.code, found.at.fraction) == (-18, "5", 0.5)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"cones": 0}, "no_history"),
        ({"half": 10.5}, "cannot_say"),
        ({"kiln": None}, "kiln_unknown"),
        ({"median": -17.1}, "more_than_a_cone"),
        ({"median": -17.0}, ""),
        ({"asked": "8", "median": -1}, "kiln_limit"),
        ({"asked": "8", "median": 1}, ""),
        ({"asked": "9", "median": 30}, "kiln_limit"),
        ({"load": [("Weir Stoneware", "6")], "median": -1}, "load_limit"),
        ({"load": [("Weir Stoneware", "6")], "median": 1}, ""),
        ({"load": [("Weir Stoneware", "7"), ("Ash", "5")], "median": 40, "asked": "6"}, "load_limit"),
        ({"asked": "4.5"}, "unknown_cone"),
        ({"asked": "14", "kiln": "14"}, "unknown_cone"),
    ],
)
def test_nothing_is_told_where_it_could_do_harm(given, code):
    found = advice(**given)
    assert found.code == code
    assert (found.shift_c is None) == bool(code)


# What may be right beyond a limit is not told either: the shelf of 6 is up to 5 °C cooler, or up to 25 °C.
@pytest.mark.parametrize(
    ("given", "most"),
    [
        ({"kiln": "6", "median": 1, "half": 6}, 0),
        ({"load": [("Ash", "6")], "median": 1, "half": 6}, 0),
        ({"median": -16, "half": 9}, 17),
        ({"median": 1, "half": 6}, 5),
    ],
)
def test_the_interval_ends_where_a_limit_or_the_next_cone_does(given, most):
    assert advice(**given).high_c == most


def test_the_lowest_limit_of_the_load_is_the_one_named():
    assert advice(load=[("Weir Stoneware", "7"), ("Ash", "6")]).limit.whose == "Ash"


def test_past_the_loads_limit_it_is_told_what_the_shelf_sees_at_that_limit():
    """Cone 6 is set, 1222 °C; a shelf that is 9 °C cooler sees 1213, three quarters of the way from 1186 to 1222."""
    found = advice(median=-9, load=[("Ash", "6")])
    assert (found.code, found.at, found.sees.cone.code, found.sees.fraction) == (
        "load_limit",
        None,
        "5",
        0.75,
    )
    words = advice_words(found)
    assert (
        "no more, the shelf “middle” would see about cone 5 (1186\xa0°C) and three quarters of the way to 6"
        in words
    )
    assert "would see about" not in advice_words(advice(asked="7", median=-9, load=[("Ash", "6")]))
    assert advice(asked="8", median=-9).sees is None


def test_a_shelf_that_would_be_hotter_than_the_load_takes_is_named():
    found = advice(
        median=0, load=[("Ash", "6")], others=[shelf(9, position="top"), shelf(-3, position="floor")]
    )
    assert [(position, cone.cone.code) for position, cone in found.hotter] == [("top", "6")]


def test_a_body_that_is_called_kiln_is_no_kiln():
    assert advice(load=[("kiln", "6")], median=-1).code == "load_limit"


def test_the_coolest_cone_on_a_hot_shelf_is_set_in_degrees():
    """Lustre is fired to 022, 586 °C, and below that there is no cone to name."""
    found = advice(asked="022", median=9)
    assert (found.code, found.at, found.shift_c) == ("", None, -9)
    assert "set 577\xa0°C: 9\xa0°C cooler" in advice_words(found)


def test_a_shelf_that_agrees_is_set_as_the_chart_says():
    words = advice_words(advice(median=0.3, half=3, load=[("Ash", "6")]))
    assert words.endswith("set it as the chart says; up to 3\xa0°C cooler may be right.")


@pytest.mark.parametrize("celsius", [585.9, 1365.1])
def test_beyond_the_cones_there_is_no_cone(celsius):
    assert cone_at(celsius) is None
