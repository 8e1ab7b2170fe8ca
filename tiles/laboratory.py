"""What a stored report says: by its own standard, by the others that its units allow, and beside yardsticks."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from studio.models import Change
from tiles.calc.leach import Judged, LeachError, judge
from tiles.calc.leach_limits import METALS, categories, limits, standards
from tiles.calc.yardsticks import Compared, compare
from tiles.laboratory_sentences import leach_error_sentence, verdict_sentence
from tiles.models import LabReport, LabValue

LIMITED = ("Pb", "Cd")
# Forms are free words; these name a kind of ware that the standards set apart. A milk jug is no pitcher to them.
NAMED_FORMS = {
    "cups-and-mugs": re.compile(r"\b(?:mugs?|(?:tea|coffee)?cups?)\b|becher\b|tassen?\b"),
    "pitchers": re.compile(r"\bpitchers?\b"),
}


@dataclass(frozen=True, slots=True)
class Opinion:
    """One standard on a report: a judgement, or the sentence that says why there is none."""

    standard: str
    judged: Judged | None
    sentence: str


@dataclass(frozen=True, slots=True)
class EarlierFile:
    """A file in whose place another one was sent; it stays readable, because somebody may have relied on it."""

    key: str
    name: str
    replaced_at: datetime


def earlier_files(report: LabReport) -> list[EarlierFile]:
    """The latest replaced first."""
    rows = Change.objects.filter(kind="tiles.labreport", object_id=report.pk, before__has_key="file_key")
    return [
        EarlierFile(row.before["file_key"], row.before["file_name"], row.at)
        for row in rows.order_by("-at", "-id")
        if row.before["file_key"]
    ]


def judged(report: LabReport) -> Judged | None:
    """By the report's own standard and kind of ware; None where its figures do not fit them.

    'within' alone says little: ask `is_complete` and `is_boundary` too. A withdrawn report is judged all the same.
    """
    return opinion(report, report.standard).judged


def opinion(report: LabReport, standard: str) -> Opinion:
    """What `standard` says of the report's figures, for the report's kind of ware."""
    if report.category not in categories(standard):
        return Opinion(standard, None, _("It has no limit for this kind of ware."))
    try:
        found = judge(standard, report.category, _results(report, standard))
    except LeachError as error:
        return Opinion(standard, None, leach_error_sentence(error))
    return Opinion(standard, found, verdict_sentence(found))


def others(report: LabReport) -> list[Opinion]:
    """What the other standards would say."""
    return [opinion(report, code) for code in standards() if code != report.standard]


def over_by(report: LabReport) -> tuple[str, ...]:
    """The other standards by which the same figures are over; a court's or law's warning level counts as well."""
    return tuple(said.standard for said in others(report) if said.judged and said.judged.verdict == "over")


def is_judged_milder(report: LabReport, form: str = "") -> bool:
    """Its form names a kind of ware for which the standard allows less than for the kind that it was judged as.

    `form`: what the ware of which is asked is called, where the report leaves that out.
    """
    named = f"{report.form} {form}".casefold()
    own = limits(report.standard, report.category)
    for category, words in NAMED_FORMS.items():
        if category == report.category or not words.search(named):
            continue
        stricter = limits(report.standard, category)
        if any(
            metal in own and (own[metal].unit != limit.unit or own[metal].limit > limit.limit)
            for metal, limit in stricter.items()
        ):
            return True
    return False


def _results(report: LabReport, standard: str) -> list[dict[str, str]]:
    """One mapping to a piece. Where a metal was measured in both units, the one that the standard judges counts."""
    rows: Sequence[LabValue] = list(report.values.all())
    results: list[dict[str, str]] = [{} for _piece in range(max((row.piece for row in rows), default=0))]
    for metal, limit in limits(standard, report.category).items():
        of_metal = [row for row in rows if row.metal == metal]
        fitting = [row for row in of_metal if row.unit == limit.unit] or of_metal
        for row in fitting:
            results[row.piece - 1][f"{METALS[metal]}_{row.unit}"] = written(row)
    return results


def written(row: LabValue) -> str:
    """As it stands in the report: '0.12', '<0.02'."""
    return f"{'<' if row.is_below else ''}{row.amount.normalize():f}"


def compared(report: LabReport) -> list[Compared]:
    """The other metals in mg/L beside the yardsticks that there are for them."""
    found = []
    for metal in METALS:
        amounts = [
            (row.amount, row.is_below)
            for row in report.values.all()
            if row.metal == metal and row.unit == "mg_per_l" and metal not in LIMITED
        ]
        found += compare(metal, amounts)
    return found


def table(report: LabReport) -> dict[str, Any]:
    """The figures as they were written down: a row to a metal and unit, a column to a piece."""
    pieces = sorted({row.piece for row in report.values.all()})
    rows: dict[tuple[str, str], dict[int, str]] = {}
    for row in sorted(report.values.all(), key=lambda row: (list(METALS).index(row.metal), row.unit)):
        rows.setdefault((row.metal, row.unit), {})[row.piece] = written(row)
    return {"pieces": pieces, "rows": [(*key, [by.get(n, "") for n in pieces]) for key, by in rows.items()]}
