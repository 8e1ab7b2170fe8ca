"""Marking the tiles of a flag."""

import uuid

from tests.world import Row


def _flag(w):
    w.touched_tile  # noqa: B018 - a tile out of its bucket
    return {"pk": w.flag.pk}


ROWS = [
    Row("tiles:flag-marks", kwargs=_flag, member=403),
    Row("tiles:flag-marks", kwargs=_flag, data=lambda w: {"since": "2020-01-31"}, member=403),
    Row("tiles:flag-marks", "post", kwargs=_flag, member=403, technician=302, manager=302),
    Row(
        "tiles:flag-marks-undo",
        "post",
        kwargs=lambda w: {"pk": w.flag.pk},
        data=lambda w: {"batch": uuid.uuid4()},
        member=403,
        technician=302,
        manager=302,
    ),
]
