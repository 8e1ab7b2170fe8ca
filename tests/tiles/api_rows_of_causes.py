"""The API's calls about causes, trials of remedies and questions. See tests/test_api_roles.py."""

from tests.api_answers import ADDS, EVERYBODY, OWN_TILE, TECHNICIANS_ADD, TECHNICIANS_WRITE
from tests.api_calls import Call, data, pk
from tiles.causes import standard_text


def new_table(w):
    return {"table": standard_text().replace("too thick", "far too thick"), "reason": "said it stronger"}


ROWS = [
    Call("get", "api-tiles-causes", EVERYBODY, pk("crazed")),
    Call("get", "api-tiles-causes", EVERYBODY, pk("crazed"), query="?fault=crazing&yes=thick,late"),
    Call("get", "api-tiles-causes", "401 400 400 400 400 400", pk("crazed"), query="?fault=running"),
    Call("get", "api-tiles-causes", "401 404 400 400 404 404", pk("private_tile")),
    Call("get", "api-remedy-trials-list", EVERYBODY),
    Call("get", "api-remedy-trials-detail", EVERYBODY, pk("remedy")),
    Call(
        "post",
        "api-remedy-trials-list",
        ADDS,
        body=lambda w: {"tile": str(w.crazed.pk), "fault": "crazing", "cause": "moisture"},
    ),
    Call("patch", "api-remedy-trials-detail", OWN_TILE, pk("remedy"), data(helped="yes"), of="remedy"),
    Call("post", "api-remedy-trials-drop", OWN_TILE, pk("remedy"), data(reason="the clay is gone")),
    Call("get", "api-causes", EVERYBODY),
    Call("post", "api-causes", TECHNICIANS_ADD, body=new_table),
    Call(
        "post",
        "api-causes-restore",
        TECHNICIANS_WRITE,
        body=lambda w: {"version": None if w.cause_table else ""},
    ),
    Call("get", "api-causes-versions", EVERYBODY),
    Call("get", "api-ask", EVERYBODY),
    Call("get", "api-ask", EVERYBODY, query="?q=coats"),
]
