"""Every call of the API, and what each role is answered. Written by hand; see test_api_roles.py."""

from tests.api_calls import Call, data, picture, pk
from tiles.planning import findings_for

EVERYBODY = "401 200 200 200 200 200"
WRITES = "401 200 200 200 403 200"  # every member, by session or by a token that may write
ADDS = "401 201 201 201 403 201"
TECHNICIANS_WRITE = "401 403 200 200 403 403"
TECHNICIANS_ADD = "401 403 201 201 403 403"
MANAGERS = "401 403 403 200 403 403"
# The tile (or jar) is the member's; the device's owner is the technician, but a device is a member.
OWN_TILE = "401 200 200 200 403 403"
OWN_TILE_ADD = "401 201 201 201 403 403"
# A class list is the member's and the technicians'; the device's owner is the technician, but a device is a member.
OWN_CLASS_READ = "401 200 200 200 200 404"
OWN_CLASS = "401 200 200 200 403 404"
OWN_LOOSE = "401 200 200 200 200 404"
PRIVATE = "401 404 200 200 404 404"
LAYER = lambda w: {"pk": w.tile.pk, "layer_id": w.layer.pk}  # noqa: E731


def key_of(tile):
    """Of the first thing that is said of it."""
    return findings_for(tile)[0].key


CALLS = [
    Call("get", "api-schema", EVERYBODY),
    Call("get", "api-me", EVERYBODY),
    Call("patch", "api-me", "401 200 200 200 403 403", body=data(units="us")),
    Call("get", "api-today", EVERYBODY),
    Call("get", "api-studio", EVERYBODY),
    Call("patch", "api-studio", MANAGERS, body=data(sg_stale_after_days=20), of="studio"),
    Call("get", "api-people-list", EVERYBODY),
    Call("get", "api-people-detail", EVERYBODY, pk("other")),
    Call("patch", "api-people-detail", MANAGERS, pk("other"), data(role="technician")),
    Call("post", "api-people-forget", MANAGERS, pk("other")),
    Call("get", "api-invitations-list", MANAGERS),
    Call(
        "post",
        "api-invitations-list",
        "401 403 403 201 403 403",
        body=data(role="member", note="the new one"),
        shown_once="address",
    ),
    Call("get", "api-invitations-detail", MANAGERS, pk("invitation")),
    Call("post", "api-invitations-withdraw", MANAGERS, pk("invitation")),
    Call("get", "api-tokens-list", "401 200 200 200 200 403"),
    Call(
        "post",
        "api-tokens-list",
        "401 201 201 201 403 403",
        body=data(name="spreadsheet"),
        shown_once="key",
    ),
    Call(
        "post",
        "api-tokens-list",
        "401 403 201 201 403 403",
        body=data(name="tablet", kind="device"),
        shown_once="key",
    ),
    Call("get", "api-tokens-detail", "401 200 404 404 200 403", pk("token")),
    Call("post", "api-tokens-revoke", "401 200 404 404 403 403", pk("token")),
    Call("get", "api-changes-list", "401 403 200 200 403 403"),
    Call("get", "api-changes-detail", EVERYBODY, pk("change")),
    # The shelf.
    Call("get", "api-glazes-list", EVERYBODY),
    Call("post", "api-glazes-list", TECHNICIANS_ADD, body=data(name="Weir Blue")),
    Call("get", "api-glazes-detail", EVERYBODY, pk("glaze")),
    Call("patch", "api-glazes-detail", TECHNICIANS_WRITE, pk("glaze"), data(remark="thin"), of="glaze"),
    Call("post", "api-glazes-archive", TECHNICIANS_WRITE, pk("glaze")),
    Call("get", "api-places-list", EVERYBODY),
    Call("post", "api-places-list", TECHNICIANS_ADD, body=data(name="Window board", kind="board")),
    Call("get", "api-places-detail", EVERYBODY, pk("place")),
    Call("patch", "api-places-detail", TECHNICIANS_WRITE, pk("place"), data(order=2), of="place"),
    Call("post", "api-places-archive", TECHNICIANS_WRITE, pk("place")),
    Call("get", "api-buckets-list", EVERYBODY),
    Call("post", "api-buckets-list", TECHNICIANS_ADD, body=data(capacity_ml=9000)),
    # An own jar is anybody's to make, but only their own.
    Call(
        "post",
        "api-buckets-list",
        "401 201 201 201 403 403",
        body=lambda w: {"owner": str(w.member.pk), "capacity_ml": 500},
    ),
    Call("get", "api-buckets-detail", EVERYBODY, pk("bucket")),
    Call(
        "patch", "api-buckets-detail", TECHNICIANS_WRITE, pk("bucket"), data(remark="blue lid"), of="bucket"
    ),
    Call("patch", "api-buckets-detail", OWN_TILE, pk("jar"), data(remark="test jar"), of="jar"),
    Call("post", "api-buckets-archive", OWN_TILE, pk("jar")),
    Call("post", "api-buckets-archive", TECHNICIANS_WRITE, pk("empty_bucket")),
    Call("get", "api-fills-list", EVERYBODY),
    Call(
        "post",
        "api-fills-list",
        TECHNICIANS_ADD,
        body=lambda w: {"bucket": str(w.empty_bucket.pk), "glaze": str(w.glaze.pk), "level": "full"},
    ),
    Call(
        "post",
        "api-fills-list",
        "401 201 201 201 403 403",
        body=lambda w: {"bucket": str(w.jar.pk), "glaze": str(w.glaze.pk)},
    ),
    Call("get", "api-fills-detail", EVERYBODY, pk("fill")),
    Call("patch", "api-fills-detail", TECHNICIANS_WRITE, pk("fill"), data(lot="B7"), of="fill"),
    Call("post", "api-fills-end", TECHNICIANS_WRITE, pk("fill"), data(why="used up")),
    Call("get", "api-fills-readings", EVERYBODY, pk("fill")),
    Call("post", "api-fills-readings", ADDS, pk("fill"), data(specific_gravity="1.47")),
    Call("get", "api-fills-stock-entries", EVERYBODY, pk("fill")),
    Call("post", "api-fills-stock-entries", ADDS, pk("fill"), data(kind="level", level="half")),
    Call("post", "api-fills-raise-flag", ADDS, pk("fill"), data(kind="contaminated", note="blue in it")),
    Call("post", "api-fills-top-up", TECHNICIANS_ADD, pk("fill"), data(volume_ml="500", lot="B8")),
    Call("post", "api-fills-top-up", OWN_TILE_ADD, pk("filled_jar"), data(volume_ml="50")),
    Call(
        "post", "api-fills-transfer", TECHNICIANS_ADD, pk("fill"), lambda w: {"target": str(w.second_fill.pk)}
    ),
    Call("post", "api-fills-transfer", OWN_TILE_ADD, pk("fill"), lambda w: {"target": str(w.filled_jar.pk)}),
    Call("get", "api-fills-treatments", EVERYBODY, pk("fill")),
    Call("post", "api-fills-treatments", ADDS, pk("fill"), data(kind="sieved", mesh=80)),
    Call("post", "api-fills-revive", TECHNICIANS_ADD, pk("fill"), data(water_ml="900")),
    Call("post", "api-fills-wash-out", TECHNICIANS_WRITE, pk("fill"), data(why="gone bad")),
    Call("get", "api-sg-rounds-list", EVERYBODY),
    Call("post", "api-sg-rounds-list", ADDS, body=lambda w: {"cup_ml": "100"} if w.fill else {}),
    Call("get", "api-sg-rounds-detail", EVERYBODY, pk("sg_round")),
    Call("post", "api-sg-rounds-measure", WRITES, pk("sg_round"), data(stop=1, gross_g="147")),
    Call("post", "api-sg-rounds-pass-over", WRITES, pk("sg_round"), data(stop=1, why="being used")),
    Call("post", "api-sg-rounds-finish", WRITES, pk("sg_round")),
    Call("post", "api-calc-slurry", EVERYBODY, body=data(specific_gravity="1.5")),
    Call("get", "api-flags-list", EVERYBODY),
    Call("get", "api-class-lists-list", EVERYBODY),
    Call(
        "post",
        "api-class-lists-list",
        ADDS,
        body=lambda w: {"name": "Saturday", "ends_on": "2099-01-01", "starts_on": "2098-12-01"},
    ),
    Call("get", "api-class-lists-detail", OWN_CLASS_READ, pk("class_list")),
    Call(
        "patch",
        "api-class-lists-detail",
        OWN_CLASS,
        pk("class_list"),
        data(name="Saturday"),
        of="class_list",
    ),
    Call("get", "api-class-lists-entries", OWN_CLASS_READ, pk("class_list")),
    Call("post", "api-class-lists-close", OWN_CLASS, pk("class_list")),
    Call("post", "api-class-lists-new-address", OWN_CLASS, pk("class_list")),
    Call("get", "api-register", EVERYBODY),
    Call("get", "api-flags-detail", EVERYBODY, pk("flag")),
    Call("get", "api-flags-reach", EVERYBODY, pk("flag")),
    Call("get", "api-flags-tiles", EVERYBODY, pk("flag")),
    Call("post", "api-flags-add-photo", ADDS, pk("flag"), lambda w: {"photo": picture()}, multipart=True),
    Call(
        "get",
        "api-flags-photo",
        EVERYBODY,
        lambda w: {"pk": w.flag.pk, "photo_id": w.flag_photo.pk},
        query="?size=small",
    ),
    Call("post", "api-flags-add-note", ADDS, pk("flag"), data(text="still so")),
    Call("post", "api-flags-withdraw", "401 200 403 403 403 403", pk("flag")),
    Call("post", "api-flags-clear", TECHNICIANS_WRITE, pk("flag"), data(outcome="put_right", note="stirred")),
    # The wall.
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
