"""The rows of tests/test_page_roles.py about laboratory reports and trials at home (`w` is the World)."""

from datetime import date

from tests.tiles.test_laboratory import pdf
from tests.world import Row
from tiles.actions.laboratory import change_report
from tiles.laboratory import earlier_files

TECHNICIANS = {"member": 403}
DONE = {"member": 302, "technician": 302, "manager": 302}
DONE_BY_TECHNICIANS = {"member": 403, "technician": 302, "manager": 302}
NOT_THERE = {"member": 404}


def report(w):
    return {"pk": w.report.pk}


def replaced(report):
    """One file was put in the place of another."""
    if not (found := earlier_files(report)):
        for name in ("first.pdf", "second.pdf"):
            change_report(by=report.by, obj=report, values={"file": pdf(name)})
        found = earlier_files(report)
    return {"pk": report.pk, "key": found[0].key}


def private(w):
    return {"pk": w.private_report.pk}


def typed(w):
    return {
        "standard": "canada",
        "category": "pitchers",
        "laboratory": "Sluice Analytics",
        "tested_on": "2026-03-02",
        "metal_1": "Pb",
        "figures_1": "0.1",
        "version": w.report.version,
    }


def trial(w):
    return {"pk": w.trial.pk}


def others(w):
    return {"pk": w.others_trial.pk}


def photo(w):
    return {"photo": w.trial_photo.pk}


def small(w):
    return {"photo": w.trial_photo.pk, "size": "small"}


def fired(w):
    return {"number": w.fired_tile.number}


BEGUN = {"kind": "dishwasher", "done": "fifty rounds", "begun_on": str(date(2026, 3, 2))}

ROWS = [
    Row("tiles:report-list"),
    Row("tiles:report-new", **TECHNICIANS),
    Row("tiles:report-new", "post", data=typed, **DONE_BY_TECHNICIANS),
    Row("tiles:report", kwargs=report),
    Row("tiles:report", kwargs=private, **NOT_THERE),
    Row("tiles:report-file", kwargs=report),
    Row("tiles:report-file", kwargs=private, **NOT_THERE),
    Row("tiles:report-file-earlier", kwargs=lambda w: replaced(w.report)),
    Row("tiles:report-file-earlier", kwargs=lambda w: replaced(w.private_report), **NOT_THERE),
    Row("tiles:report-edit", kwargs=report, **TECHNICIANS),
    Row("tiles:report-edit", "post", kwargs=report, data=typed, **DONE_BY_TECHNICIANS),
    Row("tiles:report-withdraw", kwargs=report, **TECHNICIANS),
    Row(
        "tiles:report-withdraw",
        "post",
        kwargs=report,
        data=lambda w: {"reason": "another mug", "version": w.report.version},
        **DONE_BY_TECHNICIANS,
    ),
    Row("tiles:trial-begin", kwargs=fired),
    Row("tiles:trial-begin", kwargs=lambda w: {"number": w.private_tile.number}, **NOT_THERE),
    Row("tiles:trial-begin", "post", kwargs=fired, data=lambda w: BEGUN, **DONE),
    Row("tiles:trial-end", kwargs=trial),
    Row(
        "tiles:trial-end",
        "post",
        kwargs=others,
        data=lambda w: {"result": "failed", "seen": "dull", "ended_on": str(w.others_trial.begun_on)},
        **DONE,
    ),
    Row("tiles:trial-photo-add", kwargs=trial),
    # Without a photo it comes back.
    Row("tiles:trial-photo-add", "post", kwargs=trial, data=lambda w: {"stage": "after"}),
    Row("tiles:trial-back", kwargs=trial),
    Row("tiles:trial-back", "post", kwargs=trial, data=lambda w: {"reason": "by mistake"}, **DONE),
    Row(
        "tiles:trial-back",
        "post",
        kwargs=others,
        data=lambda w: {"reason": "by mistake"},
        **DONE_BY_TECHNICIANS,
    ),
    Row("tiles:trial-photo", kwargs=small),
    Row("tiles:trial-photo-away", "post", kwargs=photo, **DONE),
]
