"""The API's calls about what a kiln really does. See tests/test_api_roles.py."""

from django.utils import timezone

from tests.api_answers import EVERYBODY, TECHNICIANS_ADD, TECHNICIANS_WRITE, WRITES
from tests.api_calls import Call, data, pk
from tiles import actions


def a_change(w):
    made = actions.note_part_change(
        by=w.manager, kiln=w.kiln, part="elements", changed_on=timezone.localdate()
    )
    return {"pk": w.kiln.pk, "change": made.pk}


ROWS = [
    Call("get", "api-kilns-truth", EVERYBODY, pk("kiln")),
    Call("get", "api-kilns-programme", EVERYBODY, pk("kiln"), query="?cone=6&position=middle"),
    Call("get", "api-kilns-parts", EVERYBODY, pk("kiln")),
    Call(
        "post",
        "api-kilns-parts",
        TECHNICIANS_ADD,
        pk("kiln"),
        data(part="elements", changed_on="2026-01-05", firings_before=3),
    ),
    Call("post", "api-kilns-parts-take-back", TECHNICIANS_WRITE, a_change, data(reason="another kiln")),
    Call("get", "api-firings-cooling", EVERYBODY, pk("firing")),
    Call("get", "api-firings-energy", EVERYBODY, pk("fired")),
    Call("post", "api-firings-meter", WRITES, pk("fired"), data(kwh_read="41.5")),
]
