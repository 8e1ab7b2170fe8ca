"""Who may load a kiln, take its firing on and take a step back."""

from tests.world import Row
from tiles import actions

EVERYBODY = {"member": 302, "technician": 302, "manager": 302}
TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


def planned(w):
    return {"number": w.firing.number}


def fired(w):
    return {"number": w.fired.number}


def loaded(w):
    actions.load_tile(by=w.member, firing=w.firing, tile=w.tile)
    return {"tile": w.tile.number}


def piece(w):
    """The member's own."""
    put_in = actions.load_piece(by=w.member, firing=w.firing, words="mugs")
    return {"number": w.firing.number, "piece": put_in.pk}


def others_piece(w):
    put_in = actions.load_piece(by=w.other, firing=w.firing, words="mugs")
    return {"number": w.firing.number, "piece": put_in.pk}


def stopped(w):
    """A tile whose body was changed after it went in."""
    actions.load_tile(by=w.member, firing=w.firing, tile=w.tile)
    actions.change_kiln(by=w.manager, obj=w.kiln, values={"highest_cone": w.body.cone_low.whole_below()})
    return {"what": "tile", "row": w.tile.pk, "override_reason": "in a dish"}


ROWS = [
    Row("tiles:firing-load", kwargs=planned),
    Row("tiles:firing-load", kwargs=fired, member=302, technician=302, manager=302),
    Row("tiles:firing-load", "post", kwargs=planned, data=lambda w: {"numbers": w.tile.number}, **EVERYBODY),
    Row("tiles:firing-take-out", "post", kwargs=planned, data=loaded, **EVERYBODY),
    Row(
        "tiles:firing-piece",
        "post",
        kwargs=planned,
        data=lambda w: {"piece-words": "mugs", "piece-count": "6"},
        **EVERYBODY,
    ),
    Row("tiles:firing-piece-out", "post", kwargs=piece, **EVERYBODY),
    Row("tiles:firing-piece-out", "post", kwargs=others_piece, **TECHNICIANS),
    Row("tiles:firing-stay", "post", kwargs=planned, data=stopped, **TECHNICIANS),
    Row("tiles:firing-sheet", kwargs=planned),
    Row("tiles:firing-move", kwargs=planned, data=lambda w: {"state": "firing"}, member=403),
    Row("tiles:firing-back", kwargs=fired, member=403),
    Row(
        "tiles:firing-back",
        "post",
        kwargs=fired,
        data=lambda w: {"reason": "tapped by mistake", "version": w.fired.version},
        **TECHNICIANS,
    ),
]
