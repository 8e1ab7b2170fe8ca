"""The API's calls of a firing's log and events."""

from django.core.files.uploadedfile import SimpleUploadedFile

from tests.api_answers import ADDS, EVERYBODY, TECHNICIANS_WRITE, WRITES
from tests.api_calls import Call, data, pk
from tests.tiles.log_files import PLAIN


def event(w):
    return {"pk": w.event.firing_id, "event": w.event.pk}


def others_event(w):
    return {"pk": w.others_event.firing_id, "event": w.others_event.pk}


ROWS = [
    Call("get", "api-firings-log", EVERYBODY, pk("logged")),
    Call(
        "put",
        "api-firings-log",
        WRITES,
        pk("fired"),
        lambda w: {"file": SimpleUploadedFile("kiln.csv", PLAIN.encode())},
        multipart=True,
    ),
    Call(
        "post", "api-firings-log-take-back", "401 403 204 204 403 403", pk("logged"), data(reason="another's")
    ),
    Call("get", "api-firings-readings", EVERYBODY, pk("logged"), query="?points=50"),
    Call(
        "post", "api-firings-readings", WRITES, pk("hot"), data(readings=[{"elapsed_s": 60, "celsius": 25.5}])
    ),
    Call("get", "api-firings-events", EVERYBODY, pk("fired")),
    Call("post", "api-firings-events", ADDS, pk("fired"), data(words="vent closed")),
    # The event is the member's; the device's owner is the technician, but a device is a member.
    Call("post", "api-firings-events-take-back", "401 200 200 200 403 403", event),
    Call("post", "api-firings-events-take-back", TECHNICIANS_WRITE, others_event),
]
