"""What the pages show of laboratory reports and trials at home."""

from typing import Any

from studio.roles import may
from tiles.actions.home_trials import FIRED, may_take_back
from tiles.laboratory import LIMITED, Opinion, compared, earlier_files, opinion, others, table
from tiles.laboratory_sentences import (
    BESIDE,
    CATEGORIES,
    MARK_WORDS,
    METAL_WORDS,
    SCREEN,
    STANDARDS,
    UNIT_WORDS,
    YARDSTICK_WORDS,
    figure,
    verdict_words,
)
from tiles.laboratory_words import metal_rows
from tiles.models import HomeTrial, LabReport, Tile


def report_row(report: LabReport) -> dict[str, Any]:
    """One line of a list: the report, whose ware, by which standard, and what that says."""
    return _row(report, opinion(report, report.standard))


def _row(report: LabReport, said: Opinion) -> dict[str, Any]:
    return {
        "report": report,
        "standard": STANDARDS[report.standard],
        "category": CATEGORIES[report.category],
        "verdict": verdict_words(said.judged),
        "is_over": bool(said.judged and said.judged.verdict == "over"),
        "sentence": said.sentence,
    }


def report_context(report: LabReport) -> dict[str, Any]:
    """The page of one report."""
    own = opinion(report, report.standard)
    figures = table(report)
    return {
        **_row(report, own),
        "metals": metal_rows(own.judged) if own.judged else [],
        "citations": own.judged.citations if own.judged else (),
        "others": [
            {
                "standard": STANDARDS[said.standard],
                "verdict": verdict_words(said.judged) if said.judged else "",
                "sentence": said.sentence,
                "metals": metal_rows(said.judged) if said.judged else [],
                "citations": said.judged.citations if said.judged else (),
            }
            for said in others(report)
        ],
        "earlier": earlier_files(report),
        "pieces": figures["pieces"],
        "figures": [(METAL_WORDS[m], UNIT_WORDS[unit], amounts) for m, unit, amounts in figures["rows"]],
        "compared": [
            {
                "metal": METAL_WORDS[found.yardstick.metal],
                "amount": f"{'<' if found.is_below else ''}{figure(found.amount)}",
                "is_below": found.is_below,
                "yardstick": YARDSTICK_WORDS[found.yardstick.yardstick],
                "of": found.yardstick.of,
                "value": figure(found.yardstick.value),
                "unit": UNIT_WORDS[found.yardstick.unit],
                "times": figure(float(f"{found.times:.2g}")),
                "mark": MARK_WORDS[found.yardstick.mark],
                "citation": found.yardstick.citation,
            }
            for found in compared(report)
        ],
        "by_area": [
            METAL_WORDS[metal]
            for metal, unit, _amounts in figures["rows"]
            if metal not in LIMITED and unit == "mg_per_dm2"
        ],
        "beside": BESIDE,
    }


def laboratory_of(tile: Tile, person: Any) -> dict[str, Any]:
    """The panel of a tile's page: its reports, its trials at home, and what the person may do."""
    reports = tile.lab_reports.standing().with_parts()
    return {
        "reports": [report_row(report) for report in reports],
        "trials": [trial_row(trial, person) for trial in trials_of(tile)],
        "screen": SCREEN,
        "beside": BESIDE,
        "may_try": may(person, "home_trial.note") and tile.state in FIRED,
        "may_report": may(person, "laboratory.note"),
    }


def trials_of(tile: Tile) -> list[HomeTrial]:
    """Those that were not taken back, the oldest first."""
    return list(tile.home_trials.standing().with_photos().order_by("begun_on", "created_at"))


def trial_row(trial: HomeTrial, person: Any) -> dict[str, Any]:
    photos = {
        stage: [photo for photo in trial.photos.all() if photo.stage == stage]
        for stage in ("before", "after")
    }
    return {
        "trial": trial,
        **photos,
        "may_note": may(person, "home_trial.note"),
        "may_take_back": may_take_back(person, trial),
    }
