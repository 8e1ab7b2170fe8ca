"""The lid: three standings, three shapes; what was not measured is not drawn."""

import xml.etree.ElementTree as ET
from decimal import Decimal

import pytest
from django.template import Context, Template
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from inventory.drawings import GAUGE_BOTTOM, GAUGE_TOP, lid, needle_y

SVG = "{http://www.w3.org/2000/svg}"
gravities = st.decimals("1.00", "2.50", places=3)


@given(gravities, gravities, st.none() | st.tuples(st.floats(1.1, 1.5), st.floats(0.01, 0.4)))
def test_a_heavier_slurry_never_lowers_the_needle_and_it_stays_on_the_gauge(one, other, window):
    wanted = window and (window[0], window[0] + window[1])
    low, high = sorted((float(one), float(other)))
    assert GAUGE_BOTTOM >= needle_y(low, wanted) >= needle_y(high, wanted) >= GAUGE_TOP


@given(gravities)
def test_the_needle_is_within_the_drawn_window_just_when_the_reading_is(sg):
    drawing = lid("K7QM2P", "use", None, sg, Decimal("1.44"), Decimal("1.50"))
    drawn_inside = (
        drawing.window.y - 0.01 <= drawing.needle_y <= drawing.window.y + drawing.window.height + 0.01
    )
    assert drawn_inside == (Decimal("1.44") <= sg <= Decimal("1.50"))


def test_each_standing_has_a_shape_and_a_word_of_its_own():
    drawings = [lid("K7QM2P", use) for use in ("use", "ask", "do_not_use")]
    assert [d.word for d in drawings] == ["Use it", "Ask first", "Do not use"]
    assert [(bool(d.ring), bool(d.half), bool(d.bars)) for d in drawings] == [
        (True, False, False),
        (False, True, False),
        (False, False, True),
    ]


def test_a_standing_that_is_not_known_is_never_drawn():
    with pytest.raises(KeyError):
        lid("K7QM2P", "")


def test_what_was_not_measured_is_said_and_not_drawn_as_nothing():
    unknown, empty = lid("K7QM2P", "use"), lid("K7QM2P", "use", "empty")
    assert unknown.level is None
    assert unknown.needle_y is None
    assert unknown.desc == "Level: not measured. Specific gravity: not measured."
    assert empty.level.height == 0
    assert empty.level_word == "empty"


def test_the_words_say_on_which_side_of_the_window_it_is():
    said = [
        lid("K7QM2P", "ask", None, Decimal(sg), Decimal("1.44"), Decimal("1.5")).sg_words
        for sg in ("1.43", "1.455", "1.51")
    ]
    assert said == [
        "1.43, too light (wanted: 1.44 to 1.50)",
        "1.455 (wanted: 1.44 to 1.50)",
        "1.51, too heavy (wanted: 1.44 to 1.50)",
    ]


def test_the_drawing_is_well_formed_named_escaped_and_free_of_local_decimals():
    source = '{% load lid_drawings %}{% lid code "ask" 0.35 1.467 1.44 1.50 %}'
    with translation.override("de"):
        html = Template(source).render(Context({"code": "<A&B>"}))
    root = ET.fromstring(html.replace("<svg ", f'<svg xmlns="{SVG[1:-1]}" ', 1))
    svg = root.find(f"{SVG}svg")
    names = {e.get("id"): e.text for e in svg if e.tag in (f"{SVG}title", f"{SVG}desc")}
    assert list(names) == svg.get("aria-labelledby").split()
    assert svg.get("role") == "img"
    assert "<A&B>" in next(iter(names.values()))
    assert "1,467" in next(iter(reversed(names.values())))
    geometry = [v for e in svg.iter() for k, v in e.items() if k in ("d", "x", "y", "height", "transform")]
    assert not [value for value in geometry if "," in value]
    assert root.find("div/p").text
