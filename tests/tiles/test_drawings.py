"""Tiles and stacks: layers lie on one another from the clay outwards, as thick as their coats."""

import re
import xml.etree.ElementTree as ET

import pytest
from django.template import Context, Template
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from inventory.models import Glaze
from tiles.drawing_words import APPLIED, AREAS, BODY_COLOURS, KINDS
from tiles.drawings import HOLE, SECTION_EDGE, SECTION_WIDTH, SPANS, StackLayer, TileCard, stack, tile_face
from tiles.models import ClayBody, Layer

SVG = "http://www.w3.org/2000/svg"
layers = st.lists(
    st.builds(
        StackLayer,
        name=st.sampled_from(["Millrace Blue", "Ash Weir"]),
        kind=st.sampled_from(["glaze", *KINDS]),
        coats=st.none() | st.integers(1, 12),
        method=st.none() | st.sampled_from([*APPLIED, "trailed"]),
        area=st.sampled_from([*AREAS]),
        colour=st.none() | st.sampled_from(["#4f6f8f", "red", '#000"/>']),
        wiped_back=st.booleans(),
    ),
    max_size=7,
)


def points(path):
    return [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.-]+) ([\d.-]+)", path)]


def reach(path, x):
    """Top and ground of a section's outline at `x`: the upper edge runs to the right, the ground back."""
    corners = points(path)
    half = len(corners) // 2
    upper, ground = corners[:half], corners[half:][::-1]
    at = lambda edge: next(y for (a, y), (b, _) in zip(edge[::2], edge[1::2], strict=True) if a < x < b)  # noqa: E731
    return at(upper), at(ground)


def covers(layer, x):
    low, high = SPANS.get(layer.area, (0, 1))
    return low * SECTION_EDGE < x < high * SECTION_EDGE


@given(layers)
def test_each_layer_lies_on_what_is_beneath_it_and_all_stays_in_the_frame(given_layers):
    drawing = stack(given_layers, "white")
    clay_top = float(re.match(r"M0 ([\d.]+)", drawing.clay)[1])
    for x in (0.1 * SECTION_EDGE, 0.5 * SECTION_EDGE, 0.9 * SECTION_EDGE):
        surface = clay_top
        for layer, shape in zip(given_layers, reversed(drawing.layers), strict=True):
            if covers(layer, x):
                top, ground = reach(shape.path, x)
                assert ground == pytest.approx(surface, abs=0.15)
                assert top < ground
                surface = top
        assert surface >= 0
    ends = [points(shape.leader)[-1][1] for shape in drawing.layers]
    assert ends == sorted(ends), "the words stand in the order of the layers, outermost first"
    assert all(0 <= x <= SECTION_WIDTH for shape in drawing.layers for x, _ in points(shape.leader))


def test_every_code_that_a_record_may_hold_has_its_words():
    assert set(BODY_COLOURS) == set(ClayBody.Colour.values)
    assert set(AREAS) == set(Layer.Area.values)
    assert set(APPLIED) == set(Layer.Method.values)
    assert set(KINDS) == set(Glaze.Kind.values) - {"glaze"}


def test_three_coats_are_three_times_one_coat():
    drawing = stack([StackLayer("A", coats=1), StackLayer("B", coats=3)])
    three, one = [(lambda top, ground: ground - top)(*reach(shape.path, 10)) for shape in drawing.layers]
    assert three == pytest.approx(3 * one, abs=0.2)


def test_a_layer_says_what_it_is_and_what_was_not_noted():
    drawing = stack(
        [
            StackLayer("Weir Slip", "slip", 1, "pour", wiped_back=True),
            StackLayer("Millrace Blue", area="upper"),
        ]
    )
    assert [(shape.title, shape.words) for shape in drawing.layers] == [
        ("2 Millrace Blue", "coats not noted, method not noted, upper part"),
        ("1 Weir Slip", "slip, one coat poured, all over, wiped back"),
    ]
    assert drawing.desc.startswith(
        "From the clay outwards: clay of unknown colour; 1 Weir Slip, slip, one coat"
    )


def test_every_method_has_a_hatch_of_its_own():
    strokes = {stack([StackLayer("A", method=method)]).layers[0].hatch.strokes for method in APPLIED}
    assert len(strokes) == len(APPLIED)
    assert stack([StackLayer("A", method=None)]).layers[0].hatch is None


def test_the_room_shows_through_every_band_that_reaches_the_hole():
    face = tile_face(
        "red", [StackLayer("A", area="whole"), StackLayer("B", area="lower"), StackLayer("C", area="lip")]
    )
    assert [HOLE in band.path for band in face.bands] == [True, False, True]
    assert HOLE in face.outline


def test_a_swatch_that_is_not_a_plain_hex_colour_never_reaches_the_page():
    face = tile_face("white", [StackLayer("A", colour="#4f6f8f"), StackLayer("B", colour='#000"/><script>')])
    assert [band.fill for band in face.bands] == ["#4f6f8f", None]


def drawn(source, **context):
    with translation.override("de"):
        html = Template("{% load tile_drawings %}" + source).render(Context(context))
    return ET.fromstring(html.replace("<svg viewBox", f'<svg xmlns="{SVG}" viewBox'))


def names(root):
    svg = root.find(f".//{{{SVG}}}svg[@role='img']")
    texts = {e.get("id"): e.text for e in svg if e.tag in (f"{{{SVG}}}title", f"{{{SVG}}}desc")}
    assert list(texts) == svg.get("aria-labelledby").split()
    return list(texts.values())


@given(layers)
def test_the_pages_parts_are_well_formed_named_and_free_of_local_decimals(given_layers):
    hostile = [*given_layers, StackLayer('<b>"&', coats=2, method="brush", colour="#102030")]
    for root in (
        drawn("{% stack layers 'buff' prefix='s' %}", layers=hostile),
        drawn(
            "{% tile_card card %}",
            card=TileCard("3<1>2", "/t/312", layers=tuple(hostile), faults=("crazing",)),
        ),
    ):
        _, desc = names(root)
        assert '<b>"&' in desc
        ids = [e.get("id") for e in root.iter() if e.get("id")]
        assert len(ids) == len(set(ids))
        wanted = {e.get("fill")[5:-1] for e in root.iter() if (e.get("fill") or "").startswith("url(")}
        assert wanted <= set(ids)
        assert not [e.get("d") for e in root.iter() if "," in (e.get("d") or "")]


def test_a_card_shows_its_photo_two_facts_at_most_and_spells_out_each_fault():
    card = TileCard(
        "312",
        "/t/312",
        "/photo/1",
        facts=("satin", "cone 6", "third"),
        faults=("crazing, upper part", "pinholes"),
    )
    html = Template("{% load tile_drawings %}{% tile_card card %}").render(Context({"card": card}))
    assert 'src="/photo/1"' in html
    assert "<p>cone 6</p>" in html
    assert "third" not in html
    assert html.count('class="pencil"') == 2
    assert "2 faults" in html
    assert "<p>crazing, upper part</p>" in html
