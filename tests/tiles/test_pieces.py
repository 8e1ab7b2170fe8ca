"""Members' own pieces in a firing: whose, what, how many, where; and what stops them."""

import pytest

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles import actions
from tiles.models import Piece


def put_in(by, firing, **fields):
    return actions.load_piece(
        by=by, firing=firing, **{"words": "mugs", "count": 6, "position": "top", **fields}
    )


def test_a_member_puts_pieces_in_and_takes_them_out_and_both_are_kept(people):
    firing, member = make.firing(), people["member"]
    piece = put_in(member, firing, body=make.body())
    assert (piece.owner, str(piece), piece.position) == (member, "6 × mugs", "top")
    actions.take_piece_out(by=member, piece=piece)
    actions.take_piece_out(by=member, piece=piece)
    assert Piece.objects.get().taken_out_at is not None
    verbs = Change.objects.filter(object_id=firing.pk).values_list("verb", flat=True)
    assert sorted(v for v in verbs if "pieces" in v) == ["loaded pieces", "took out pieces"]


def test_only_a_technician_acts_for_somebody_else(people):
    firing, member = make.firing(), people["member"]
    with pytest.raises(NotAllowed):
        put_in(people["other"], firing, owner=member)
    piece = put_in(people["technician"], firing, owner=member)
    assert piece.owner == member
    with pytest.raises(NotAllowed, match="somebody else's"):
        actions.take_piece_out(by=people["other"], piece=piece)
    actions.take_piece_out(by=people["technician"], piece=piece)


def test_a_body_outside_the_cone_stops_them_until_a_technician_says_why(people):
    firing, red = make.firing(target="6"), make.body("Sluice Red", low="06", high="2")
    with pytest.raises(Refused, match="cone 6 \\(1222\u00a0°C\\)") as refused:  # fixtures/cones.csv
        put_in(people["member"], firing, body=red)
    assert list(refused.value.problems) == ["body"]
    with pytest.raises(NotAllowed):
        put_in(people["member"], firing, body=red, override_reason="mine")
    piece = put_in(people["technician"], firing, body=red, override_reason="in a dish")
    assert piece.override_reason == "in a dish"


def test_a_reason_without_a_stop_is_not_kept(people):
    assert put_in(people["technician"], make.firing(), override_reason="why not").override_reason == ""


BAD = [
    ({"count": 0}, "count"),
    ({"count": 501}, "count"),
    ({"words": ""}, "words"),
    ({"words": "x" * 121}, "words"),
    ({"position": "attic"}, "position"),
]


@pytest.mark.parametrize(("fields", "field"), BAD, ids=[f"{b[1]}-{n}" for n, b in enumerate(BAD)])
def test_what_cannot_be_is_refused_at_its_field(people, fields, field):
    with pytest.raises(Refused) as refused:
        put_in(people["member"], make.firing(), **fields)
    assert field in refused.value.problems
    assert not Piece.objects.exists()


@pytest.mark.parametrize("state", ["firing", "cooling", "unloaded", "stopped"])
def test_a_lit_kiln_takes_and_gives_nothing(people, state):
    firing = make.firing()
    piece = put_in(people["member"], firing)
    for step in {"stopped": ["firing", "stopped"]}.get(state, ["firing", "cooling", "unloaded"]):
        actions.move_firing(by=make.manager(), firing=firing, state=step)
        if step == state:
            break
    with pytest.raises(Refused, match="takes nothing more"):
        put_in(people["member"], firing)
    with pytest.raises(Refused):
        actions.take_piece_out(by=people["member"], piece=piece)
