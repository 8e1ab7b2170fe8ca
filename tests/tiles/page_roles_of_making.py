"""Who may make tiles in runs, hang them, glaze many at once and answer findings (`w` is the World)."""

from tests.tiles.page_roles_of_a_tile import NOBODY_ELSE, NOT_THERE, STORED, STORED_BY_TECHNICIANS
from tests.world import Row
from tiles.planning import findings_for


def set_in_hand(w):
    """Each role holds `tile`; only its maker and technicians could have taken it."""
    from tiles.models import SetInHand

    for person in (w.member, w.technician, w.manager):
        SetInHand.objects.get_or_create(person=person)[0].tiles.set([w.tile])
    return {"glaze": w.glaze.pk, "method": "dip", "coats": 1, "area": "whole", "ground": "bisque"}


def repeated(w):
    layer = {"what": f"glaze:{w.glaze.pk}", "method": "dip", "coats": 2, "area": "whole"}
    return {"as": w.others_tile.number, **{f"layer1-{name}": value for name, value in layer.items()}}


def answer(w):
    return {"key": findings_for(w.underglazed)[0].key, "reason": "meant to be bare"}


ROWS = [
    Row("tiles:number-reserve"),
    Row("tiles:number-reserve", "post", data=lambda w: {"count": 2, "bisque": w.bisque.pk}, **STORED),
    Row("tiles:number-run", kwargs=lambda w: {"run": w.number_run.pk}),
    Row("tiles:run-list"),
    Row("tiles:run-list", data=lambda w: {"mine": "false"}),
    Row("tiles:run", kwargs=lambda w: {"run": w.number_run.pk}),
    Row("tiles:tiles-several"),
    Row("tiles:tiles-several", "post", data=lambda w: {"numbers": w.tile.number, "do": "lost"}, **STORED),
    Row(
        "tiles:tiles-several", "post", data=lambda w: {"numbers": w.others_tile.number, "do": "off"}, **STORED
    ),
    Row(
        "tiles:tiles-several",
        "post",
        data=lambda w: {"numbers": w.others_tile.number, "do": "lost"},
        **STORED_BY_TECHNICIANS,
    ),
    Row("tiles:set-choose"),
    Row("tiles:set-choose", "post", data=lambda w: {"numbers": w.tile.number}, **STORED),
    Row(
        "tiles:set-choose", "post", data=lambda w: {"numbers": w.others_tile.number}, **STORED_BY_TECHNICIANS
    ),
    Row("tiles:log-set", data=set_in_hand),
    Row("tiles:log-set", "post", data=set_in_hand, **STORED),
    Row("tiles:set-check", "post", data=set_in_hand),
    Row("tiles:set-done", "post", data=set_in_hand, **STORED),
    Row("tiles:board", kwargs=lambda w: {"pk": w.place.pk}),
    Row(
        "tiles:board",
        "post",
        kwargs=lambda w: {"pk": w.place.pk},
        data=lambda w: {"numbers": w.others_tile.number, "onto": w.place.pk},
        **STORED,
    ),
    Row("tiles:tile-repeat", kwargs=lambda w: {"number": w.tile.number}),
    Row("tiles:tile-repeat", kwargs=lambda w: {"number": w.others_tile.number}, **NOBODY_ELSE),
    Row("tiles:tile-repeat", kwargs=lambda w: {"number": w.private_tile.number}, **NOT_THERE),
    Row("tiles:tile-repeat", "post", kwargs=lambda w: {"number": w.tile.number}, data=repeated, **STORED),
    Row(
        "tiles:finding-answer",
        "post",
        kwargs=lambda w: {"number": w.underglazed.number},
        data=answer,
        **STORED,
    ),
    Row(
        "tiles:finding-answer",
        "post",
        kwargs=lambda w: {"number": w.others_tile.number},
        technician=200,
        manager=200,
        **NOBODY_ELSE,
    ),
]
