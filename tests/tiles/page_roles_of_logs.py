"""Who may send a log, take one back, and note what happened."""

from django.core.files.uploadedfile import SimpleUploadedFile

from tests.tiles.log_files import PLAIN
from tests.world import Row

EVERYBODY = {"member": 302, "technician": 302, "manager": 302}
TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


class Again(SimpleUploadedFile):
    """Sent by one after another."""

    def read(self, *args):
        self.seek(0)
        return super().read(*args)


def fired(w):
    return {"number": w.fired.number}


def logged(w):
    return {"number": w.logged.number}


def drafted(w):
    """A draft of each of them: one does not see another's."""
    w.log_drafts  # noqa: B018 - makes them
    return {"number": w.fired.number}


ROWS = [
    Row("tiles:firing-log", kwargs=fired),
    Row(
        "tiles:firing-log",
        "post",
        kwargs=fired,
        data=lambda w: {"file": Again("kiln.csv", PLAIN.encode())},
        member=302,
        technician=302,
        manager=302,
    ),
    Row("tiles:firing-log-read", kwargs=drafted),
    Row("tiles:firing-log-read", kwargs=fired, **EVERYBODY),
    Row("tiles:firing-log-read", "post", kwargs=drafted, data=lambda w: {"drop": "1"}, **EVERYBODY),
    Row("tiles:firing-log-back", kwargs=logged, member=403),
    Row(
        "tiles:firing-log-back", "post", kwargs=logged, data=lambda w: {"reason": "another's"}, **TECHNICIANS
    ),
    Row("tiles:firing-log-csv", kwargs=logged),
    Row("tiles:firing-log-taken", kwargs=lambda w: {"number": w.fired.number, "log": w.log_taken_back.pk}),
    Row(
        "tiles:firing-event", "post", kwargs=fired, data=lambda w: {"event-words": "vent closed"}, **EVERYBODY
    ),
    Row(
        "tiles:firing-event-back",
        "post",
        kwargs=lambda w: {"number": w.event.firing.number, "event": w.event.pk},
        **EVERYBODY,
    ),
    Row(
        "tiles:firing-event-back",
        "post",
        kwargs=lambda w: {"number": w.others_event.firing.number, "event": w.others_event.pk},
        **TECHNICIANS,
    ),
]
