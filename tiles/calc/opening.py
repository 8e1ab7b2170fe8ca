"""At what temperature a kiln is opened, as it is published: sources differ, and none speaks for a kiln here."""

from dataclasses import dataclass
from functools import lru_cache

from inventory.calc.fixtures import rows


@dataclass(frozen=True, slots=True)
class Published:
    """One figure: what it says (not_above, cracks_above, inch_at), what its author is, and where it was read."""

    celsius: int
    says: str
    who: str
    source: str


@lru_cache(maxsize=1)
def published() -> tuple[Published, ...]:
    """Every figure of fixtures/opening.csv (fixtures/SOURCES.md), the lowest first.

    >>> published()[0].celsius, published()[-1].celsius
    (93, 204)
    """
    return tuple(
        Published(int(row["celsius"]), row["says"], row["who"], row["source"]) for row in rows("opening")
    )
