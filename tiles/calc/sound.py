"""When a zone of a tile counts as sound, and what a count of sound ones allows to be said."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.wilson import Share

HALF = 0.5


@dataclass(frozen=True, slots=True)
class ZoneLook:
    """One look at a zone: after which firing, when, and what it says against it."""

    firing: Any
    looked_on: date
    noted_at: Any
    has_fault: bool = False
    has_damage: bool = False
    verdict: str = ""

    @property
    def is_sound(self) -> bool:
        return not (self.has_fault or self.has_damage or self.verdict == "not_again")


def since_last_glaze(firings: Sequence[tuple[Any, str]]) -> list[Any]:
    """The firings from the last glaze firing on; `firings` are (key, kind) in the order in which they were unloaded.

    One that was stopped early is none of them: nobody knows what it did to the glaze.

    What an overglaze firing does comes after it and is still a look at the glaze. Bisque melts nothing.

    >>> since_last_glaze([(1, "bisque"), (2, "glaze"), (3, "refire"), (4, "overglaze")])
    [3, 4]
    """
    last = max((n for n, (_key, kind) in enumerate(firings) if kind in GLAZE_FIRINGS), default=None)
    return [] if last is None else [key for key, _kind in firings[last:]]


def look_that_counts(looks: Collection[ZoneLook], firings: Sequence[tuple[Any, str]]) -> ZoneLook | None:
    """The latest look after the last glaze firing, with all that was seen since; None if nobody has looked since.

    A zone is sound when this look has no fault and no damage and its verdict is not 'not again'. A fault or damage
    does not heal, so one that a later look leaves out counts on; of the verdicts the latest that was given counts.
    """
    since = since_last_glaze(firings)
    counting = sorted(
        (look for look in looks if look.firing in since), key=lambda look: (look.looked_on, look.noted_at)
    )
    if not counting:
        return None
    verdicts = [look.verdict for look in counting if look.verdict]
    return replace(
        counting[-1],
        has_fault=any(look.has_fault for look in counting),
        has_damage=any(look.has_damage for look in counting),
        verdict=verdicts[-1] if verdicts else "",
    )


def judgement(share: Share | None) -> str:
    """'mostly' or 'seldom' where the whole interval lies on one side of a half, else 'cannot_say'.

    >>> from tiles.calc.wilson import share
    >>> judgement(share(9, 10)), judgement(share(0, 9)), judgement(share(1, 2)), judgement(None)
    ('mostly', 'seldom', 'cannot_say', 'cannot_say')
    """
    if share is None or share.low <= HALF <= share.high:
        return "cannot_say"
    return "mostly" if share.low > HALF else "seldom"
