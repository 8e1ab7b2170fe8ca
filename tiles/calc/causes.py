"""Which cause of a fault is likely: weighted evidence, small enough to be reckoned on paper.

A technician edits the table, so weights are doublings of the odds: +1 makes a cause twice as likely against the
others as it was, +2 four times, -1 half. What nobody knows moves nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

# What can be seen of a tile and its record; the sentences are in tiles/cause_sentences.py.
OBSERVATIONS = (
    *("thick", "thin", "sg_high", "sg_low", "uneven", "quick_coats", "day_between", "layered", "sprayed"),
    *("dusty", "oily", "damp", "loaded_damp", "on_fired", "on_greenware", "cracked_raw", "powdery"),
    *("bisque_low", "bisque_high", "porous", "body_over", "body_under"),
    *("fired_over", "fired_under", "wants_hotter", "wants_cooler", "fast_climb", "slow_climb"),
    *("no_hold", "long_hold", "fast_cooling", "slow_cooling", "reduction", "refired", "overglaze"),
    *("matte", "opaque", "heavy_colour", "moved", "contaminated", "settled", "deflocculated", "old"),
    *("same_glaze", "same_firing", "same_body", "volatile_near", "late", "at_edge", "at_overlap"),
    *("sharp_edges", "fit_tension", "fit_squeezed"),
)
# Of two of a kind, who has seen the one is not asked for the other.
OPPOSITES = (
    *(("thick", "thin"), ("sg_high", "sg_low"), ("bisque_low", "bisque_high"), ("body_over", "body_under")),
    *(("fired_over", "fired_under"), ("wants_hotter", "wants_cooler"), ("fast_climb", "slow_climb")),
    *(("no_hold", "long_hold"), ("fast_cooling", "slow_cooling"), ("fit_tension", "fit_squeezed")),
)
# A look that missed a thing is weaker than one that found it.
ABSENCE_COUNTS = 0.5
# Observations hang together (a thick bucket makes a thick coat), so that no pile of them counts without end.
MOST_DOUBLINGS = 5.0
# Two trials that helped and two that did not, imagined before the first real one: Beta(2, 2).
IMAGINED = 4
# What the table does not name: always there, for or against it speaks nothing.
UNLISTED_PRIOR = 1.0
MOST_PRIOR, MOST_WEIGHT = 20.0, 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One row of the table. `prior` is what it weighs against the other causes of this fault before anything is seen:
    a judgement, in plain proportion."""

    fault: str
    code: str
    words: str
    prior: float
    evidence: tuple[tuple[str, float], ...]
    tell_apart: str
    remedy: str
    trial: str
    source: str
    mark: str

    @property
    def weights(self) -> dict[str, float]:
        return dict(self.evidence)


@dataclass(frozen=True, slots=True)
class Tried:
    """Trials of a remedy whose result somebody has said."""

    helped: int = 0
    did_not: int = 0


@dataclass(frozen=True, slots=True)
class Ranked:
    """A cause with its share of the odds, and each observation that moved it: (code, it is so, doublings)."""

    cause: Cause
    share: float
    moved: tuple[tuple[str, bool, float], ...]
    tried: Tried


def doublings(weight: float, is_so: bool) -> float:
    """What an observation adds: its weight where it is so; half of a weight in favour against it where it is not.

    A weight against a cause counts only where the thing is seen: that a coat was not thick proves no dirt.

    >>> doublings(2, True), doublings(2, False), doublings(-1, True), doublings(-1, False)
    (2, -1.0, -1, 0.0)
    """
    if is_so:
        return weight
    return -ABSENCE_COUNTS * weight if weight > 0 else 0.0


def learned(tried: Tried) -> float:
    """By how much trials move the prior: the mean of Beta(2 + helped, 2 + did not) over that of Beta(2, 2).

    Formula: ((helped + 2) / (helped + did_not + 4)) / (1/2); 1 without a trial, never above 2, towards 0 the more often
    it did not help. Common practice of pseudo-counts (a Beta prior).

    >>> [round(learned(Tried(*t)), 2) for t in ((0, 0), (1, 0), (0, 1), (8, 0))]
    [1.0, 1.2, 0.8, 1.67]
    """
    return 2 * (tried.helped + IMAGINED / 2) / (tried.helped + tried.did_not + IMAGINED)


def rank(
    causes: Iterable[Cause], seen: Mapping[str, bool | None], tried: Mapping[str, Tried] | None = None
) -> list[Ranked]:
    """The causes of one fault, the likeliest first; shares are of all of them and of a cause that is not listed.

    Formula: odds = prior x learned x 2^(sum of doublings, within +-5); share = odds / (sum of odds + 1). That is naive
    Bayes in log-odds of base 2. `seen` holds True, False, or None or nothing for what is not known; `tried` is by code.
    Valid as a ranking: observations are not independent and priors are judged, so a share is never shown as a figure.
    Source: the weights are the table's; the method is common practice (I. J. Good's weights of evidence, from memory).

    >>> thick = Cause(fault="running", code="a", words="", prior=1, evidence=(("thick", 2),), tell_apart="",
    ...               remedy="", trial="", source="", mark="")
    >>> round(rank([thick], {"thick": True})[0].share, 2), round(rank([thick], {})[0].share, 2)
    (0.8, 0.5)
    """
    scored = []
    for cause in causes:
        moved = tuple(
            (code, is_so, by)
            for code, weight in cause.evidence
            if (is_so := seen.get(code)) is not None and (by := doublings(weight, is_so))
        )
        total = max(-MOST_DOUBLINGS, min(MOST_DOUBLINGS, sum(by for _code, _so, by in moved)))
        trials = (tried or {}).get(cause.code, Tried())
        scored.append((cause, cause.prior * learned(trials) * 2**total, moved, trials))
    whole = sum(odds for _cause, odds, _moved, _trials in scored) + UNLISTED_PRIOR
    found = [Ranked(cause, odds / whole, moved, trials) for cause, odds, moved, trials in scored]
    return sorted(found, key=lambda one: (-one.share, one.cause.code))


def tells_apart(first: Cause, second: Cause, seen: Mapping[str, bool | None]) -> str:
    """The unknown observation that would move the two furthest from one another; '' where none is left.

    What the table names in `tell_apart` comes first where it is not known yet. Nobody who saw a thick coat is asked
    whether it is thin.

    >>> a = Cause(fault="f", code="a", words="", prior=1, evidence=(("thick", 2), ("late", 1)), tell_apart="",
    ...           remedy="", trial="", source="", mark="")
    >>> b = Cause(fault="f", code="b", words="", prior=1, evidence=(("late", 3),), tell_apart="", remedy="",
    ...           trial="", source="", mark="")
    >>> tells_apart(a, b, {}), tells_apart(a, b, {"thick": True}), tells_apart(a, b, {"thick": True, "late": False})
    ('thick', 'late', '')
    """
    ruled_out = {b if seen.get(a) else a for a, b in OPPOSITES if seen.get(a) or seen.get(b)}
    unknown = [code for code in OBSERVATIONS if seen.get(code) is None and code not in ruled_out]

    def distance(code: str) -> float:
        return abs(first.weights.get(code, 0) - second.weights.get(code, 0))

    named = [code for code in (first.tell_apart, second.tell_apart) if code in unknown and distance(code)]
    candidates = named or [code for code in unknown if distance(code)]
    return max(candidates, key=distance, default="")


def of_fault(causes: Sequence[Cause], fault: str) -> list[Cause]:
    """The rows about one fault, in the table's order."""
    return [cause for cause in causes if cause.fault == fault]
