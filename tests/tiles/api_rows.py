"""The API's calls of the wall. Written by hand; see tests/test_api_roles.py."""

from tests.api_answers import (
    ADDS,
    EVERYBODY,
    OWN_LOOSE,
    OWN_TILE,
    OWN_TILE_ADD,
    PRIVATE,
    TECHNICIANS_ADD,
    TECHNICIANS_WRITE,
    WRITES,
)
from tests.api_calls import Call, data, picture, pk
from tests.tiles.api_rows_of_causes import ROWS as CAUSES
from tests.tiles.api_rows_of_kilns import ROWS as KILNS
from tests.tiles.api_rows_of_logs import ROWS as LOGS
from tiles.planning import findings_for

LAYER = lambda w: {"pk": w.tile.pk, "layer_id": w.layer.pk}  # noqa: E731


def key_of(tile):
    """Of the first thing that is said of it."""
    return findings_for(tile)[0].key


ROWS = [
    *CAUSES,
    *KILNS,
    *LOGS,
    Call("get", "api-clay-bodies-list", EVERYBODY),
    Call("post", "api-clay-bodies-list", TECHNICIANS_ADD, body=data(name="Lock Porcelain")),
    Call("get", "api-clay-bodies-detail", EVERYBODY, pk("body")),
    Call("patch", "api-clay-bodies-detail", TECHNICIANS_WRITE, pk("body"), data(colour="buff"), of="body"),
    Call("post", "api-clay-bodies-archive", TECHNICIANS_WRITE, pk("unused_body")),
    Call("get", "api-kilns-list", EVERYBODY),
    Call("post", "api-kilns-list", TECHNICIANS_ADD, body=data(name="Test kiln", highest_cone="10")),
    Call("get", "api-kilns-detail", EVERYBODY, pk("kiln")),
    Call("patch", "api-kilns-detail", TECHNICIANS_WRITE, pk("kiln"), data(lustre=True), of="kiln"),
    Call("post", "api-kilns-archive", TECHNICIANS_WRITE, pk("unused_kiln")),
    Call("get", "api-firings-list", EVERYBODY),
    Call(
        "post",
        "api-firings-list",
        TECHNICIANS_ADD,
        body=lambda w: {"kiln": str(w.kiln.pk), "target_cone": "6"},
    ),
    Call("get", "api-firings-detail", EVERYBODY, pk("firing")),
    Call("patch", "api-firings-detail", TECHNICIANS_WRITE, pk("firing"), data(remark="slow"), of="firing"),
    Call(
        "put",
        "api-firings-witness-cones",
        TECHNICIANS_WRITE,
        pk("fired"),
        data(witness_cones=[{"position": "top", "cone": "6", "bend_degrees": 90}]),
        of="fired",
    ),
    Call(
        "post",
        "api-firings-load",
        WRITES,
        pk("firing"),
        lambda w: {"tile": str(w.tile.pk), "position": "top"},
    ),
    Call("post", "api-firings-take-out", WRITES, pk("loaded"), lambda w: {"tile": str(w.loaded_tile.pk)}),
    Call("post", "api-firings-move", TECHNICIANS_WRITE, pk("firing"), data(state="loading")),
    Call("post", "api-firings-step-back", TECHNICIANS_WRITE, pk("fired"), data(reason="tapped by mistake")),
    Call("post", "api-firings-load-many", WRITES, pk("firing"), lambda w: {"tiles": [str(w.tile.pk)]}),
    Call(
        "post",
        "api-firings-override",
        TECHNICIANS_WRITE,
        lambda w: {"pk": w.stopped_piece.firing_id},
        lambda w: {"piece": str(w.stopped_piece.pk), "reason": "in a dish"},
    ),
    Call("get", "api-firings-curve", EVERYBODY, pk("fired"), query="?points=40"),
    Call("get", "api-schedules-list", EVERYBODY),
    Call("post", "api-schedules-list", TECHNICIANS_ADD, body=data(name="Slow", segments=[{"to_c": 1060}])),
    Call("get", "api-schedules-detail", EVERYBODY, pk("schedule")),
    Call("patch", "api-schedules-detail", TECHNICIANS_WRITE, pk("schedule"), data(remark="x"), of="schedule"),
    Call("post", "api-schedules-archive", TECHNICIANS_WRITE, pk("unused_schedule")),
    Call("get", "api-pieces-list", EVERYBODY),
    Call("get", "api-pieces-detail", EVERYBODY, pk("piece")),
    Call("post", "api-pieces-list", ADDS, body=lambda w: {"firing": str(w.firing.pk), "words": "mugs"}),
    Call(
        "post",
        "api-pieces-list",
        TECHNICIANS_ADD,
        body=lambda w: {"firing": str(w.firing.pk), "words": "mugs", "owner": str(w.other.pk)},
    ),
    Call("post", "api-pieces-take-out", "401 200 200 200 403 403", pk("piece")),
    Call("get", "api-runs-list", EVERYBODY),
    Call("post", "api-runs-list", ADDS, body=lambda w: {"count": 2, "firing": str(w.bisque.pk)}),
    Call("post", "api-runs-list", TECHNICIANS_ADD, body=lambda w: {"count": 2, "maker": str(w.other.pk)}),
    Call("get", "api-runs-detail", EVERYBODY, pk("number_run")),
    Call(
        "post",
        "api-tiles-hang",
        WRITES,
        body=lambda w: {"tiles": [str(w.others_tile.pk)], "place": str(w.place.pk)},
    ),
    Call(
        "post",
        "api-tiles-hang",
        "401 400 200 200 403 400",
        body=lambda w: {"tiles": [str(w.private_tile.pk)], "place": None},
    ),
    Call("post", "api-tiles-mark", OWN_TILE, body=lambda w: {"tiles": [str(w.tile.pk)], "mark": "lost"}),
    Call(
        "post",
        "api-tiles-glaze",
        OWN_TILE,
        body=lambda w: {"tiles": [str(w.tile.pk)], "layers": [{"fill": str(w.fill.pk)}]},
    ),
    Call(
        "post",
        "api-tiles-glaze",
        TECHNICIANS_WRITE,
        body=lambda w: {
            "tiles": [str(w.tile.pk), str(w.others_tile.pk)],
            "layers": [{"glaze": str(w.glaze.pk)}],
        },
    ),
    Call("post", "api-tiles-repeat", OWN_TILE_ADD, pk("tile"), lambda w: {"source": str(w.others_tile.pk)}),
    Call(
        "post",
        "api-tiles-answer",
        OWN_TILE_ADD,
        pk("underglazed"),
        lambda w: {"key": key_of(w.underglazed), "reason": "meant to be bare"},
    ),
    Call("get", "api-tiles-list", EVERYBODY),
    Call(
        "post", "api-tiles-list", ADDS, body=lambda w: {"number": "N1", "layers": [{"fill": str(w.fill.pk)}]}
    ),
    Call("post", "api-tiles-reserve", ADDS, body=data(count=3, prefix="K")),
    Call("get", "api-tiles-detail", EVERYBODY, pk("tile")),
    Call("get", "api-tiles-detail", EVERYBODY, pk("others_tile")),
    Call("get", "api-tiles-detail", PRIVATE, pk("private_tile")),
    Call("patch", "api-tiles-detail", OWN_TILE, pk("tile"), data(remark="drips"), of="tile"),
    Call(
        "patch", "api-tiles-detail", TECHNICIANS_WRITE, pk("others_tile"), data(remark="x"), of="others_tile"
    ),
    Call(
        "patch",
        "api-tiles-detail",
        "401 404 200 200 403 404",
        pk("private_tile"),
        data(remark="x"),
        of="private_tile",
    ),
    Call("post", "api-tiles-add-layer", OWN_TILE_ADD, pk("tile"), lambda w: {"glaze": str(w.glaze.pk)}),
    Call("patch", "api-tiles-layer", OWN_TILE, LAYER, data(coats=2), of="tile"),
    Call("delete", "api-tiles-layer", "401 204 204 204 403 403", LAYER, of="tile"),
    Call("post", "api-tiles-add-outcome", ADDS, pk("fired_tile"), data(surface="satin")),
    Call(
        "post",
        "api-tiles-take-look-back",
        OWN_TILE,
        lambda w: {"pk": w.outcome.tile_id, "outcome_id": w.outcome.pk},
        data(reason="that was tile 45"),
    ),
    Call(
        "post",
        "api-tiles-add-photo",
        ADDS,
        pk("tile"),
        lambda w: {"photo": picture(), "caption": "front"},
        multipart=True,
    ),
    Call("get", "api-tiles-findings", EVERYBODY, pk("tile")),
    Call("get", "api-photos-list", EVERYBODY),
    Call("get", "api-photos-detail", EVERYBODY, pk("photo")),
    Call("get", "api-photos-detail", PRIVATE, pk("private_photo")),
    Call("get", "api-photos-image", EVERYBODY, pk("photo"), query="?size=small"),
    Call("get", "api-photos-image", PRIVATE, pk("private_photo"), query="?size=small"),
    Call("get", "api-photos-image", "401 200 200 200 200 403", pk("photo"), query="?size=original"),
    Call("post", "api-photos-archive", "401 204 204 204 403 403", pk("photo")),
    # Whose tile a loose photo shows is not known: its sender and technicians see it, a device nothing.
    Call("get", "api-loose-photos-list", EVERYBODY),
    Call(
        "post",
        "api-loose-photos-list",
        ADDS,
        body=lambda w: {"firing": str(w.fired.pk), "photo": picture()},
        multipart=True,
    ),
    Call("get", "api-loose-photos-detail", OWN_LOOSE, pk("loose_photo")),
    Call("get", "api-loose-photos-image", OWN_LOOSE, pk("loose_photo"), query="?size=small"),
    Call(
        "post",
        "api-loose-photos-pick",
        "401 201 201 201 403 404",
        pk("loose_photo"),
        lambda w: {"tile": str(w.fired_tile.pk)},
    ),
    Call("post", "api-loose-photos-unpick", "401 200 200 200 403 404", pk("sorted_photo")),
    Call("post", "api-loose-photos-drop", "401 200 200 200 403 404", pk("loose_photo")),
    Call("get", "api-looks-due-list", EVERYBODY),
    Call("post", "api-calc-heat-work", EVERYBODY, body=data(samples=[[0, 20], [60, 900]])),
    Call("get", "api-combinations-list", EVERYBODY),
    Call("get", "api-combinations-detail", EVERYBODY, pk("combination")),
    Call(
        "patch", "api-combinations-detail", WRITES, pk("combination"), data(remark="runs"), of="combination"
    ),
    Call("get", "api-searches-list", EVERYBODY),
    Call(
        "post",
        "api-searches-list",
        "401 201 201 201 403 403",  # a device has no searches of its own
        body=data(name="Matte", query="surface=matte", is_shared=True),
    ),
    Call("get", "api-searches-detail", "401 200 404 404 200 404", pk("search")),
    Call("get", "api-searches-detail", EVERYBODY, pk("shared_search")),
    Call(
        "patch",
        "api-searches-detail",
        "401 200 404 404 403 404",
        pk("search"),
        data(name="Silky"),
        of="search",
    ),
    Call(
        "patch",
        "api-searches-detail",
        TECHNICIANS_WRITE,
        pk("shared_search"),
        data(name="Silky"),
        of="shared_search",
    ),
    Call("post", "api-searches-archive", TECHNICIANS_WRITE, pk("shared_search")),
]
