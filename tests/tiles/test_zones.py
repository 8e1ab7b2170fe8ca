"""Zones of a tile, worked out from its layers; upper and lower meet in the middle (common practice)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tiles.calc.zones import AREAS, LayerArea, Zone, combination_key, zones

# Written the other way round than the code: for each region the areas that reach it.
REACHED_BY = {
    "inside": {"whole", "inside"},
    "lip": {"whole", "lip", "upper"},
    "top": {"whole", "outside", "upper"},
    "middle": {"whole", "outside", "upper", "lower", "band"},
    "bottom": {"whole", "outside", "lower"},
    "foot": {"foot"},
}


def test_two_dips_from_both_ends_make_three_zones():
    assert zones([LayerArea("A", "upper"), LayerArea("B", "lower")]) == (
        Zone("alone", ("A",), (0,), ("lip", "top")),
        Zone("overlap", ("A", "B"), (0, 1), ("middle",)),
        Zone("alone", ("B",), (1,), ("bottom",)),
    )


def test_one_zone_is_the_whole_however_many_layers_and_wax_is_not_in_it():
    layers = [LayerArea("A", "whole"), LayerArea("wax", "whole", is_wax=True), LayerArea("B", "whole")]
    (only,) = zones(layers)
    assert only == Zone("whole", ("A", "B"), (0, 2), ("inside", "lip", "top", "middle", "bottom"))


def test_two_layers_of_one_glaze_are_two():
    glazes = [zone.glazes for zone in zones([LayerArea("A", "whole"), LayerArea("A", "lip")])]
    assert glazes == [("A",), ("A", "A")]


def test_nothing_but_wax_is_no_zone():
    assert zones([]) == zones([LayerArea("wax", "foot", is_wax=True)]) == ()


def test_an_unknown_area_is_refused():
    with pytest.raises(ValueError, match="unknown_area"):
        zones([LayerArea("A", "handle")])


def test_combination_key_keeps_the_order_and_refuses_its_own_separator():
    assert combination_key(("A", "B")) == "A>B" != combination_key(("B", "A"))
    with pytest.raises(ValueError, match="separator_in_key"):
        combination_key(("A>B", "C"))


layer_lists = st.lists(
    st.builds(LayerArea, st.sampled_from("ABC"), st.sampled_from(AREAS), st.booleans()), max_size=6
)


@given(layer_lists)
def test_zones_agree_with_a_walk_over_the_regions(layers):
    found = zones(layers)
    for region, reached_by in REACHED_BY.items():
        walked = [layer.glaze_key for layer in layers if layer.area in reached_by and not layer.is_wax]
        here = [zone for zone in found if region in zone.regions]
        assert [list(zone.glazes) for zone in here] == ([walked] if walked else [])
    stacks = [zone.layer_positions for zone in found]
    assert len(set(stacks)) == len(stacks)
    for zone in found:
        assert [layers[position].glaze_key for position in zone.layer_positions] == list(zone.glazes)
        assert list(zone.layer_positions) == sorted(set(zone.layer_positions))
        several = {True: "overlap", False: "alone"}[len(zone.glazes) > 1]
        assert zone.kind == ("whole" if len(found) == 1 else several)
