"""The zones of usual tiles, as they are stored (areas: tiles/calc/zones; dipping from both ends: common practice)."""

from tests import make
from tiles.actions import change_layer, record_outcome


def kept(tile):
    return {
        (zone.kind, str(zone.combination)): (zone.regions, zone.layer_positions) for zone in tile.zones.all()
    }


def test_a_tile_dipped_from_both_ends_overlaps_in_the_middle(studio):
    ash, blue = make.glaze("Weir Ash"), make.glaze("Weir Blue")
    tile = make.tile(layers=[{"glaze": ash, "area": "upper"}, {"glaze": blue, "area": "lower"}])
    assert kept(tile) == {
        ("alone", "Weir Ash"): (["lip", "top"], [0]),
        ("overlap", "Weir Ash → Weir Blue"): (["middle"], [0, 1]),
        ("alone", "Weir Blue"): (["bottom"], [1]),
    }


def test_wax_is_no_part_of_a_combination(studio):
    wax, blue = make.glaze("Wax", kind="wax", low=None, high=None), make.glaze("Weir Blue")
    tile = make.tile(layers=[{"glaze": wax, "area": "band"}, {"glaze": blue}])
    assert list(kept(tile)) == [("whole", "Weir Blue")]
    assert make.tile(layers=[{"glaze": wax}]).zones.count() == 0


def test_the_same_glazes_on_two_tiles_are_one_combination_and_the_order_makes_another(studio):
    ash, blue = make.glaze(), make.glaze()
    one, two, turned = (
        make.tile(layers=[{"glaze": a}, {"glaze": b}]).zones.get().combination
        for a, b in ((ash, blue), (ash, blue), (blue, ash))
    )
    assert one == two != turned


def test_a_look_outlives_a_correction_of_the_layers(studio, manager):
    ash, blue = make.glaze(), make.glaze("Weir Blue")
    tile = make.fired_tile(layers=[{"glaze": ash}])
    look = record_outcome(by=manager, tile=tile, surface="satin")
    looked_at = look.combination
    change_layer(by=manager, layer=tile.layers.get(), values={"glaze": blue})
    look.refresh_from_db()
    assert look.combination == looked_at
    assert list(kept(tile)) == [("whole", "Weir Blue")]
