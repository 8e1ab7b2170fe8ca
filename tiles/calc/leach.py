"""What a laboratory's figures say against a published limit. Never 'pass': within, over, or not enough to say.

A test is of the fired piece. mg/L (the acid that filled it) and mg/dm² (the surface that it wetted) do not convert
into each other without the volume and the area, so figures in the other unit are refused, not converted.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from tiles.calc.leach_limits import METALS, UNITS, Limit, categories, limits, standards
from tiles.calc.leach_values import LeachError, Released, read_results

Verdict = Literal["over", "within", "more-pieces-needed", "cannot-say"]
WORST_FIRST: tuple[Verdict, ...] = ("over", "cannot-say", "more-pieces-needed", "within")
# Too near the limit to lift anything: as far as two laboratories may lie apart of the same ware, in mg/L (ASTM
# C738-94(2020): reproducibility), but at least a tenth and at most half of the limit (the studio's own rule).
BOUNDARY, HALF = Decimal("0.1"), Decimal("0.5")
REPRODUCIBLE = {"Pb": Decimal("0.10"), "Cd": Decimal("0.013")}
FIFTY = Decimal("1.5")  # 84/500/EEC, Art. 2(5)
OTHERS = 3  # pieces beside the one that is over, same article


@dataclass(frozen=True, slots=True)
class JudgedMetal:
    """One metal against its limit. `counted` is the mean or the worst piece, which the verdict rests on.

    `above` are the numbers of the pieces over the limit, also where a mean below it decides; `unknown` of those
    whose limit of detection lies above it. `is_bound`: `counted` was not measured, it is at most that, because it rests
    on a limit of detection. `is_boundary`: too near the limit to lift anything, or a piece is over it
    by itself.
    """

    limit: Limit
    verdict: Verdict
    pieces: int
    pieces_needed: int
    counted: Decimal
    above: tuple[int, ...]
    unknown: tuple[int, ...]
    is_boundary: bool
    by_fifty_percent: bool
    is_bound: bool

    @property
    def metal(self) -> str:
        return self.limit.metal


@dataclass(frozen=True, slots=True)
class Judged:
    """All metals of the standard that were measured. `not_measured`: those with a limit and no figure.

    A verdict 'within' with something in `not_measured`, or with `is_boundary`, lifts nothing.
    """

    standard: str
    category: str
    verdict: Verdict
    metals: tuple[JudgedMetal, ...]
    not_measured: tuple[str, ...]
    without_limit: tuple[str, ...]

    @property
    def pieces_needed(self) -> int:
        return max((metal.pieces_needed for metal in self.metals), default=0)

    @property
    def is_boundary(self) -> bool:
        return any(metal.is_boundary for metal in self.metals)

    @property
    def is_unverified(self) -> bool:
        return any(metal.limit.is_unverified for metal in self.metals)

    @property
    def is_rule_unverified(self) -> bool:
        """How many pieces are asked for, and whether each counts, is from memory for one of the metals."""
        return any(metal.limit.is_rule_unverified for metal in self.metals)

    @property
    def is_complete(self) -> bool:
        """Every metal that the standard limits was measured."""
        return not self.not_measured

    @property
    def has_lead_and_cadmium(self) -> bool:
        """Both were measured and held against a limit; a standard that limits lead alone says nothing of cadmium."""
        return {"Pb", "Cd"} <= {metal.metal for metal in self.metals}

    @property
    def citations(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(metal.limit.citation for metal in self.metals))


def judge(standard: str, category: str, results: Sequence[Mapping[str, Any]]) -> Judged:
    """Hold figures against a standard's limits for one kind of ware.

    `results`: one mapping to a piece, such as {"lead_mg_per_l": 0.1, "cadmium_mg_per_l": "<0.02"}; None is not
    measured; '<x' is counted at x. A mean holds over all pieces; 'each' means that no piece is over. Exactly at the
    limit is not over. With fewer pieces than the standard asks for a verdict is given only when the missing ones
    cannot change it. Errors (LeachError): unknown_standard, unknown_category, unknown_key, not_a_number, negative,
    two_ways, unit, both_units, no_results. Sources: fixtures/leach_limits.csv; 50 % rule: 84/500/EEC, Art. 2(5).

    >>> judge("eu-84-500", "cups-and-mugs", [{"lead_mg_per_l": "4.0"}]).verdict
    'within'
    """
    if standard not in standards():
        raise LeachError("unknown_standard", field="standard", known=standards())
    if not (wanted := limits(standard, category)):
        raise LeachError("unknown_category", field="category", standard=standard, known=categories(standard))
    released = read_results(results)
    for metal, figures in released.items():
        if metal in wanted and (wrong := [f for f in figures if f.unit != wanted[metal].unit]):
            unit = {"metal": metal, "given": wrong[0].unit, "wanted": wanted[metal].unit}
            raise LeachError("unit", field="results", piece=wrong[0].piece, category=category, **unit)
    metals = tuple(_judged(limit, released[metal]) for metal, limit in wanted.items() if metal in released)
    verdicts = [metal.verdict for metal in metals]
    return Judged(
        standard,
        category,
        min(verdicts, key=WORST_FIRST.index, default="cannot-say"),
        metals,
        tuple(metal for metal in wanted if metal not in released),
        tuple(metal for metal in released if metal not in wanted),
    )


def _judged(limit: Limit, figures: list[Released]) -> JudgedMetal:
    """The rule is asked twice: with what is below detection at its bound, and at nothing."""
    high, low = [f.amount for f in figures], [Decimal(0) if f.is_below else f.amount for f in figures]
    worst, best = _verdict(limit, high), _verdict(limit, low)
    verdict: Verdict = worst if worst == best else "over" if best == "over" else "cannot-say"
    over = [f for f in figures if f.amount > limit.limit]
    mean = sum(high, Decimal(0)) / len(high)
    counted = mean if limit.basis == "mean" else max(high)
    # By the rule it is within, and all the same one piece of these is over.
    has_one_over = verdict == "within" and any(x > limit.limit for x in high)
    return JudgedMetal(
        limit,
        verdict,
        len(figures),
        _needed(limit, high) if verdict in ("within", "more-pieces-needed") else 0,
        counted,
        tuple(f.piece for f in over if not f.is_below),
        tuple(f.piece for f in over if f.is_below),
        has_one_over or abs(counted - limit.limit) <= _margin(limit),
        has_one_over and limit.basis == "each",
        any(f.is_below and (limit.basis == "mean" or f.amount == counted) for f in figures),
    )


def _margin(limit: Limit) -> Decimal:
    apart = REPRODUCIBLE.get(limit.metal, Decimal(0)) if limit.unit == "mg_per_l" else Decimal(0)
    return min(max(BOUNDARY * limit.limit, apart), HALF * limit.limit)


def _verdict(limit: Limit, amounts: list[Decimal]) -> Verdict:
    n, most = len(amounts), limit.limit
    if limit.basis == "mean":
        if sum(amounts) > most * max(n, limit.samples):
            return "over"
    elif any(amount > most for amount in amounts) and (
        limit.standard != "eu-84-500" or not _fifty_percent_may_hold(most, amounts)
    ):
        return "over"
    return "more-pieces-needed" if _needed(limit, amounts) else "within"


def _fifty_percent_may_hold(most: Decimal, amounts: list[Decimal]) -> bool:
    """No piece more than half over; for each that is over, the mean of the others (three or more) is not over.

    The others of the least that is over have the highest mean, so that one decides for all.
    """
    if max(amounts) > FIFTY * most:
        return False
    least = min(amount for amount in amounts if amount > most)
    others = len(amounts) - 1
    return others < OTHERS or sum(amounts) - least <= most * others


def _needed(limit: Limit, amounts: list[Decimal]) -> int:
    asked = limit.samples
    if limit.standard == "eu-84-500" and max(amounts) > limit.limit:
        asked = 1 + OTHERS
    return max(0, asked - len(amounts))


__all__ = ["METALS", "UNITS", "Judged", "JudgedMetal", "LeachError", "Verdict", "judge"]
