"""The rows of tests/test_page_roles.py about causes, trials of remedies and questions (`w` is the World)."""

from tests.world import Row
from tiles.causes import standard_text

WRITES = {"member": 302, "technician": 302, "manager": 302}
TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}


def _remedy(w):
    return {"pk": w.remedy.pk}


def _kept(w):
    return {"change": "two coats", "version": w.remedy.version}


def _table(w):
    return {"table": standard_text().replace("too thick", "far too thick"), "reason": "said it stronger"}


ROWS = [
    Row("tiles:ask"),
    Row("tiles:ask", data=lambda w: {"q": "coats"}),
    Row("tiles:why", kwargs=lambda w: {"number": w.crazed.number}),
    Row(
        "tiles:why",
        kwargs=lambda w: {"number": w.crazed.number},
        data=lambda w: {"fault": "running"},
        member=404,
        technician=404,
        manager=404,
    ),
    Row("tiles:why", kwargs=lambda w: {"number": w.private_tile.number}, member=404),
    Row(
        "tiles:why-plan",
        "post",
        kwargs=lambda w: {"number": w.crazed.number},
        data=lambda w: {"fault": "crazing", "cause": "too_thick", "reserve": "on"},
        **WRITES,
    ),
    Row("tiles:remedy", kwargs=_remedy),
    Row("tiles:remedy", "post", kwargs=_remedy, data=_kept, **WRITES),
    Row("tiles:remedy-drop", kwargs=_remedy),
    Row("tiles:remedy-drop", "post", kwargs=_remedy, data=lambda w: {"version": 1}, **WRITES),
    Row("tiles:causes"),
    Row("tiles:causes-csv"),
    Row("tiles:causes-csv", data=lambda w: {"of": w.cause_table.pk}),
    Row("tiles:causes-edit", member=403),
    Row("tiles:causes-edit", "post", data=_table, **TECHNICIANS),
    Row("tiles:causes-restore", "post", data=lambda w: {"version": w.cause_table.pk}, **TECHNICIANS),
]
