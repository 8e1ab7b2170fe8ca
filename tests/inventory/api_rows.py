"""The API's calls of the shelf. Written by hand; see tests/test_api_roles.py."""

from datetime import timedelta

from django.utils import timezone

from tests.api_answers import (
    ADDS,
    EVERYBODY,
    OWN_CLASS,
    OWN_CLASS_READ,
    OWN_TILE,
    OWN_TILE_ADD,
    TECHNICIANS_ADD,
    TECHNICIANS_WRITE,
    WRITES,
)
from tests.api_calls import Call, data, picture, pk


def in_days(days: int) -> str:
    return (timezone.localdate() + timedelta(days=days)).isoformat()


ROWS = [
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
        body=lambda w: {"name": "Saturday", "starts_on": in_days(300), "ends_on": in_days(331)},
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
]
