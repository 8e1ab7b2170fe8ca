"""What stops a load after it went in: a body or a kiln that was changed since, until a technician says why it stays."""

import pytest

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles import actions
from tiles.actions.stops import open_stops


@pytest.fixture
def loaded(people):
    """A firing to cone 6 with a tile and pieces of a body that goes to 7."""
    body = make.body(low="5", high="7")
    firing, tile = make.firing(target="6"), make.tile("9", by=people["member"], body=body)
    actions.load_tile(by=people["member"], firing=firing, tile=tile)
    piece = actions.load_piece(by=people["member"], firing=firing, words="bowls", count=2, body=body)
    assert open_stops(firing) == []
    return firing, tile, piece, body


def lower(body, high="5"):
    actions.change_body(by=make.manager(), obj=body, values={"cone_high": make.cone(high)})


def test_a_body_whose_range_was_changed_stops_what_is_in(people, loaded):
    firing, tile, piece, body = loaded
    lower(body)
    assert [one.what for one in open_stops(firing)] == ["Tile 9", "2 × bowls"]
    with pytest.raises(Refused, match="Tile 9: This firing goes to cone 6") as refused:
        actions.move_firing(by=people["technician"], firing=firing, state="firing")
    assert list(refused.value.problems) == ["reason"]
    for row in ({"tile": tile}, {"piece": piece}):
        with pytest.raises(NotAllowed):
            actions.override_stop(by=people["member"], firing=firing, reason="mine", **row)
        with pytest.raises(Refused):
            actions.override_stop(by=people["technician"], firing=firing, reason=" ", **row)
        actions.override_stop(by=people["technician"], firing=firing, reason="in a dish", **row)
    assert open_stops(firing) == []
    assert Change.objects.filter(object_id=firing.pk, reason="in a dish").count() == 2
    actions.move_firing(by=people["technician"], firing=firing, state="firing")


def test_a_kiln_that_goes_less_high_than_it_did_stops_everything(people, loaded):
    firing, _tile, _piece, _body = loaded
    empty = make.firing(firing.kiln, target="6")
    actions.change_kiln(by=make.manager(), obj=firing.kiln, values={"highest_cone": make.cone("5")})
    for one in (firing, empty):
        one.refresh_from_db()
    assert [one.what for one in open_stops(firing)] == ["Tile 9", "2 × bowls"]
    assert [one.what for one in open_stops(empty)] == [str(empty.kiln)]
    with pytest.raises(Refused, match="goes no higher than cone 5"):
        actions.move_firing(by=people["technician"], firing=empty, state="firing")
    actions.move_firing(by=people["technician"], firing=empty, state="firing", reason="it is lit already")


def test_what_nothing_stops_needs_no_reason(people, loaded):
    firing, tile, piece, _body = loaded
    for row in ({"tile": tile}, {"piece": piece}):
        with pytest.raises(Refused, match="Nothing stops it"):
            actions.override_stop(by=people["technician"], firing=firing, reason="x", **row)
    with pytest.raises(Refused, match="not in Firing"):
        actions.override_stop(by=people["technician"], firing=firing, tile=make.tile(), reason="x")


def test_who_moves_a_tile_within_the_kiln_need_not_give_the_reason_again(people, loaded):
    firing, tile, _piece, body = loaded
    lower(body)
    actions.override_stop(by=people["technician"], firing=firing, tile=tile, reason="in a dish")
    moved = actions.load_tile(by=people["member"], firing=firing, tile=tile, position="top")
    assert (moved.position, moved.override_reason) == ("top", "in a dish")
