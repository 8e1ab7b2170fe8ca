"""Why a tile has a fault: the causes in the order of how likely they are, each with what speaks for and against it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext_lazy as _

from tiles.calc.cause_table import read_table
from tiles.calc.causes import Cause, Ranked, of_fault, rank, tells_apart
from tiles.cause_sentences import CAUTIONS, share_words, source_words, tried_words
from tiles.fixture_words import fixture_text
from tiles.models import CauseTable, OutcomeFault, RemedyTrial, Tile
from tiles.observations import Seen, observations
from tiles.observed_sentences import observed_words, question

# What the table speaks of: the faults of tiles, and one that is seen in a bucket.
FAULTS = [*OutcomeFault.Kind.choices, ("settling", _("settling hard in the bucket"))]
CODES = [code for code, _label in FAULTS]


@dataclass(frozen=True, slots=True)
class Likely:
    """A cause in words. `speaks_for` and `speaks_against` are sentences, the weightiest first."""

    code: str
    words: str
    share: float
    share_words: str
    speaks_for: list[str]
    speaks_against: list[str]
    remedy: str
    trial: str
    source: str
    tried: str


@dataclass(frozen=True, slots=True)
class Question:
    """The observation that would move the first two causes furthest from one another."""

    code: str
    words: str


@dataclass(frozen=True, slots=True)
class Why:
    fault: str
    causes: list[Likely]
    tells_apart: Question | None
    caution: str
    answered: dict[str, bool]

    @property
    def is_known(self) -> bool:
        """Anything at all speaks for or against a cause."""
        return any(cause.speaks_for or cause.speaks_against for cause in self.causes)


def standard_text() -> str:
    """The table that comes with the service."""
    return fixture_text("causes")


def version_in_force() -> CauseTable | None:
    """The newest table; None, or one that is the standard: that of the fixtures."""
    return CauseTable.objects.select_related("by").first()


def number_of(version: CauseTable | None) -> int:
    """What a writer sends back, so that no table is replaced unread; 0 where nobody has changed the standard one."""
    return version.version if version else 0


def text_of(version: CauseTable | None) -> str:
    return standard_text() if version is None or version.is_standard else version.table


def causes_in_force() -> tuple[Cause, ...]:
    return _parsed(text_of(version_in_force()))


@lru_cache(maxsize=8)
def _parsed(text: str) -> tuple[Cause, ...]:
    # A table was whole when it was sent; should a later release know a row no more, the others still serve.
    return tuple(read_table(text, CODES)[0])


def faults_of(tile: Tile) -> list[str]:
    """The faults that any look has noted, each once, as they were seen."""
    kinds = OutcomeFault.objects.filter(outcome__tile=tile).order_by("id").values_list("kind", flat=True)
    return list(dict.fromkeys(kinds))


def made_for(tile: Tile, person: Any) -> RemedyTrial | None:
    """The trial for which this tile was made, if the person may see the one with the fault."""
    rows = RemedyTrial.objects.visible_to(person).filter(new_tile=tile, dropped_at=None)
    return rows.select_related("tile").first()


def why(tile: Tile, fault: str, person: Any, answers: Mapping[str, bool] | None = None) -> Why:
    """The likely causes of `fault` on `tile`; `answers` are what somebody says of an observation, over the record."""
    known = observations(tile, fault, person)
    answered = dict(answers or {})
    known.update({code: Seen(is_so) for code, is_so in answered.items()})
    seen = {code: one.is_so for code, one in known.items()}
    tried = RemedyTrial.objects.visible_to(person).told(fault)
    ranked = rank(of_fault(causes_in_force(), fault), seen, tried)
    code = tells_apart(ranked[0].cause, ranked[1].cause, seen) if len(ranked) > 1 else ""
    return Why(
        fault=fault,
        causes=[_likely(one, place, known) for place, one in enumerate(ranked)],
        tells_apart=Question(code, question(code)) if code else None,
        caution=str(CAUTIONS.get(fault, "")),
        answered=answered,
    )


def _likely(ranked: Ranked, place: int, known: Mapping[str, Seen]) -> Likely:
    moved = sorted(ranked.moved, key=lambda one: -abs(one[2]))
    cause = ranked.cause

    def said(pieces: Iterable[tuple[str, bool, float]]) -> list[str]:
        return [observed_words(code, is_so, known[code].detail) for code, is_so, _by in pieces]

    return Likely(
        code=cause.code,
        words=cause.words,
        share=ranked.share,
        share_words=share_words(ranked, place),
        speaks_for=said(one for one in moved if one[2] > 0),
        speaks_against=said(one for one in moved if one[2] < 0),
        remedy=cause.remedy,
        trial=cause.trial,
        source=source_words(cause.source, cause.mark),
        tried=tried_words(ranked.tried),
    )
