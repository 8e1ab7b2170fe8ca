"""A tile's cone: witness at its place, else of the firing, else the log, else the plan, marked as such (DESIGN)."""

import pytest

from studio.errors import Refused
from tests import make
from tiles.actions import load_tile, move_firing, set_witness_cones, take_out
from tiles.cards import cone_line
from tiles.models import Firing
from tiles.record import cone_basis


def witness(position, cone, bend):
    return {"position": position, "cone": make.cone(cone), "bend_degrees": bend}


def fired_with(*cones, position="middle", target="6", log=None, stop=False, kind="glaze"):
    firing, tile, by = make.firing(target=target, kind=kind), make.tile(), make.manager()
    load_tile(by=by, firing=firing, tile=tile, position=position)
    Firing.objects.filter(pk=firing.pk).update(log_cone=log and make.cone(log))
    move_firing(by=by, firing=firing, state="firing")
    if not stop:
        move_firing(by=by, firing=firing, state="cooling")
    set_witness_cones(by=by, firing=firing, cones=list(cones))
    move_firing(by=by, firing=firing, state="stopped" if stop else "unloaded")
    tile.refresh_from_db()
    return tile


@pytest.mark.parametrize(
    ("cones", "more", "cone", "basis"),
    [
        ([witness("middle", "5", 95), witness("top", "6", 92)], {"log": "7"}, "5", "witness_here"),
        ([witness("top", "6", 92), witness("bottom", "5", 90)], {"log": "7"}, "5", "witness_firing"),
        ([witness("", "5.5", 90)], {}, "5.5", "witness_firing"),
        ([witness("middle", "6", 60)], {"log": "6"}, None, "witness_short"),
        ([witness("middle", "6", None)], {"log": "5.5"}, "5.5", "log"),
        ([], {}, "6", "planned"),
        ([], {"stop": True}, None, ""),
        ([witness("middle", "04", 91)], {"stop": True}, "04", "witness_here"),
    ],
    ids=["beside it", "coolest place", "no place", "stood", "not read", "plan", "stopped", "stopped, read"],
)
def test_the_best_evidence_counts(studio, cones, more, cone, basis):
    tile = fired_with(*cones, **more)
    assert (tile.cone and tile.cone.code, tile.cone_basis) == (cone, basis)


def test_a_bisque_firing_gives_no_cone(studio):
    tile = fired_with(target="04", kind="bisque")
    assert (tile.cone, tile.state) == (None, "bisqued")


def test_a_bisque_that_was_stopped_leaves_the_tile_as_it_was(studio):
    assert fired_with(target="04", kind="bisque", stop=True).state == "blank"


def test_the_hottest_glaze_firing_counts_and_cones_are_no_numbers(studio):
    tile = fired_with(witness("middle", "6", 95))
    make.fire(make.firing(target="06", kind="refire"), tile)
    assert tile.cone.code == "6"
    make.fire(make.firing(target="7", kind="refire"), tile)
    assert (tile.cone.code, tile.cone_basis) == ("7", "planned")


def test_what_is_read_later_changes_the_tile(studio, manager):
    tile = fired_with()
    before = tile.version
    set_witness_cones(by=manager, firing=tile.tile_firings.get().firing, cones=[witness("middle", "5", 90)])
    tile.refresh_from_db()
    assert (tile.cone.code, tile.cone_basis) == ("5", "witness_here")
    assert tile.version > before


# End points: large self-supporting cones at 60 °C/h, 1222 °C for cone 6 (fixtures/SOURCES.md).
@pytest.mark.parametrize(
    ("cones", "words", "short"),
    [
        (
            [witness("middle", "6", 90)],
            "cone 6 (1222\u00a0°C) by the witness cone beside it",
            "cone 6 (1222\u00a0°C)",
        ),
        ([], "cone 6 (1222\u00a0°C), planned only", "cone 6 (1222\u00a0°C), planned only"),
        (
            [witness("middle", "6", 60)],
            "No witness cone was down: cone 6 (1222\u00a0°C) is not proved",
            "cone not proved: no witness cone was down",
        ),
    ],
    ids=["witness", "plan", "stood"],
)
def test_the_cone_is_said_with_what_it_rests_on(studio, cones, words, short):
    tile = fired_with(*cones)
    assert (cone_basis(tile), cone_line(tile)) == (words, short)


def test_a_tile_not_fired_has_no_cone(studio, manager):
    tile, firing = make.tile(), make.firing()
    load_tile(by=manager, firing=firing, tile=tile)
    tile.refresh_from_db()
    assert (tile.cone, cone_basis(tile)) == (None, "")
    take_out(by=manager, firing=firing, tile=tile)
    assert not tile.tile_firings.exists()


def test_a_tile_is_in_one_kiln_at_a_time(studio, manager):
    tile = make.tile()
    load_tile(by=manager, firing=make.firing(), tile=tile)
    with pytest.raises(Refused, match="already"):
        load_tile(by=manager, firing=make.firing(), tile=tile)
