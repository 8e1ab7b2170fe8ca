"""Who may keep schedules, and who sees them and the curves."""

from tests.world import Row

TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}
SEGMENTS = {
    "segments-TOTAL_FORMS": "1",
    "segments-INITIAL_FORMS": "0",
    "segments-0-rate_c_per_h": "100",
    "segments-0-to_c": "1060",
    "segments-0-hold_min": "",
}


def _schedule(w):
    return {"pk": w.schedule.pk}


ROWS = [
    Row("tiles:schedule-list"),
    Row("tiles:schedule", kwargs=_schedule),
    Row("tiles:schedule-new", member=403),
    Row(
        "tiles:schedule-new",
        "post",
        data=lambda w: {"name": "Slow", "kind": "bisque", **SEGMENTS},
        **TECHNICIANS,
    ),
    Row("tiles:schedule-edit", kwargs=_schedule, member=403),
    Row(
        "tiles:schedule-edit",
        "post",
        kwargs=_schedule,
        data=lambda w: {"name": "Slow", "kind": "bisque", "version": w.schedule.version, **SEGMENTS},
        **TECHNICIANS,
    ),
    Row("tiles:schedule-archive", kwargs=_schedule, member=403),
    Row(
        "tiles:schedule-archive",
        "post",
        kwargs=_schedule,
        data=lambda w: {"version": w.schedule.version},
        **TECHNICIANS,
    ),
    Row("tiles:firing-curve", kwargs=lambda w: {"number": w.fired.number}),
]
