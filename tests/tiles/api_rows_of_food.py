"""The API's calls about food: records, what is in a glaze, a label that was misread. See tests/test_api_roles.py."""

from inventory import actions as shelf
from tests import make
from tests.api_answers import ADDS, EVERYBODY, PRIVATE, TECHNICIANS_WRITE
from tests.api_calls import Call, data, pk


def noted_by(who):
    def kwargs(world):
        row = shelf.note_substance(
            by=getattr(world, who), glaze=world.glaze, substance="Pb", read_in="container"
        )
        return {"pk": row.pk}

    return kwargs


def misread(world):
    return {"pk": make.fill(make.glaze(origin="bought"), label="not_for_food").pk}


def a_private_tile(w):
    return make.tile(by=w.other, layers=[{"glaze": make.glaze()}], visibility="mine")


ROWS = [
    Call("get", "api-glazes-food", EVERYBODY, pk("glaze")),
    Call("get", "api-fills-food", EVERYBODY, pk("fill")),
    Call("get", "api-tiles-food", EVERYBODY, pk("tile")),
    Call("get", "api-tiles-food", PRIVATE, pk("private_tile")),
    Call("get", "api-combinations-food", EVERYBODY, pk("combination")),
    Call(
        "get",
        "api-combinations-food",
        PRIVATE,
        # Of a glaze that is on no other tile.
        lambda w: {"pk": a_private_tile(w).zones.get().combination_id},
    ),
    # It only reckons, so a token that may only read may ask it.
    Call(
        "post", "api-pots-food", EVERYBODY, body=lambda w: {"layers": [{"fill": str(w.fill.pk)}], "cone": "6"}
    ),
    Call("get", "api-substances-list", EVERYBODY),
    Call("get", "api-substances-detail", EVERYBODY, noted_by("other")),
    Call(
        "post",
        "api-substances-list",
        ADDS,
        body=lambda w: {"glaze": str(w.glaze.pk), "substance": "Co", "percent": "2.5", "read_in": "maker"},
    ),
    Call(
        "post", "api-substances-take-back", "401 200 200 200 403 403", noted_by("member"), data(reason="no")
    ),
    Call("post", "api-substances-take-back", TECHNICIANS_WRITE, noted_by("other"), data(reason="no")),
    Call("post", "api-fills-withdraw-label", TECHNICIANS_WRITE, misread, data(reason="misread")),
]
