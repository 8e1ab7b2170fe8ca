"""Who sees what a kiln does, and who notes that a part of it was changed."""

from django.utils import timezone

from tests.world import Row
from tiles import actions

TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


def kiln(w):
    return {"pk": w.kiln.pk}


def change(w):
    made = actions.note_part_change(
        by=w.manager, kiln=w.kiln, part="elements", changed_on=timezone.localdate()
    )
    return {"pk": w.kiln.pk, "change": made.pk}


ROWS = [
    Row("tiles:kiln", kwargs=kiln),
    Row("tiles:kiln", kwargs=kiln, data=lambda w: {"cone": "15", "position": "attic"}),
    Row("tiles:kiln-part", kwargs=kiln, member=403),
    Row(
        "tiles:kiln-part",
        "post",
        kwargs=kiln,
        data=lambda w: {"part": "elements", "changed_on": timezone.localdate().isoformat()},
        **TECHNICIANS,
    ),
    Row("tiles:kiln-part-back", kwargs=change, member=403),
    Row("tiles:kiln-part-back", "post", kwargs=change, **TECHNICIANS),
    Row("tiles:firing-meter", kwargs=lambda w: {"number": w.fired.number}),
    Row(
        "tiles:firing-meter",
        "post",
        kwargs=lambda w: {"number": w.fired.number},
        data=lambda w: {"kwh_read": "41.5"},
        member=302,
        technician=302,
        manager=302,
    ),
]
