"""A judgement as data for the API and as rows for a page, from one catalogue."""

from typing import Any

from django.utils.translation import gettext as _

from tiles.calc.leach import Judged, JudgedMetal
from tiles.calc.leach_limits import METALS
from tiles.laboratory_sentences import (
    BASIS_WORDS,
    KIND_WORDS,
    MARK_WORDS,
    METAL_WORDS,
    UNIT_WORDS,
    VERDICT_WORDS,
    figure,
    metal_sentences,
    verdict_sentence,
)

LEVEL = {"over": "stop", "more-pieces-needed": "warn", "cannot-say": "warn", "within": "note"}


def judged_as_data(judged: Judged) -> dict[str, Any]:
    """As the calculator and the reports of the API give it."""
    return {
        "standard": judged.standard,
        "category": judged.category,
        "verdict": judged.verdict,
        "sentence": verdict_sentence(judged),
        "pieces_needed": judged.pieces_needed,
        "is_boundary": judged.is_boundary,
        "not_measured": [METALS[metal] for metal in judged.not_measured],
        "metals": [_metal(metal) for metal in judged.metals],
        "citation": "; ".join(judged.citations),
        "findings": [
            {
                "code": f"leach_{metal.verdict.replace('-', '_')}",
                "level": LEVEL[metal.verdict],
                "sentence": sentence,
                "field": "results",
                "source": metal.limit.citation,
            }
            for metal in judged.metals
            for sentence in metal_sentences(metal)
        ],
    }


def _metal(metal: JudgedMetal) -> dict[str, Any]:
    limit = metal.limit
    return {
        "metal": METALS[limit.metal],
        "verdict": metal.verdict,
        "limit": limit.limit,
        "unit": limit.unit,
        "kind": limit.kind,
        "basis": limit.basis,
        "counted": metal.counted,
        "counted_is_bound": metal.is_bound,
        "pieces": metal.pieces,
        "pieces_needed": metal.pieces_needed,
        "pieces_above": list(metal.above),
        "is_boundary": metal.is_boundary,
        "own_category": limit.own_category,
        "version": limit.version,
        "mark": limit.mark,
        "rule_mark": limit.rule_mark,
        "is_unverified": limit.is_unverified,
        "read_on": limit.read_on,
        "citation": limit.citation,
    }


def metal_rows(judged: Judged) -> list[dict[str, Any]]:
    """As a page shows it: one row to a metal, in words."""
    return [
        {
            "metal": METAL_WORDS[metal.metal],
            "counted": _("at most %(amount)s") % {"amount": amount} if metal.is_bound else amount,
            "limit": figure(metal.limit.limit),
            "unit": UNIT_WORDS[metal.limit.unit],
            "kind": KIND_WORDS[metal.limit.kind],
            "basis": BASIS_WORDS[metal.limit.basis],
            "mark": MARK_WORDS[metal.limit.mark],
            "verdict": VERDICT_WORDS[metal.verdict],
            "is_over": metal.verdict == "over",
            "own_category": metal.limit.own_category,
            "version": metal.limit.version,
            "read_on": metal.limit.read_on,
            "notes": metal_sentences(metal),
        }
        for metal, amount in ((metal, figure(metal.counted)) for metal in judged.metals)
    ]
