"""Published doses of what is added to a bucket, from fixtures/doses.csv (fixtures/SOURCES.md)."""

from dataclasses import dataclass
from functools import lru_cache

from inventory.calc.fixtures import rows


@dataclass(frozen=True, slots=True)
class Dose:
    """Percent of the dry glaze; `low` None where only an upper end is given. `mark` is 'read' or 'memory'."""

    key: str
    kind: str
    low: float | None
    high: float
    mark: str
    source: str

    def grams(self, dry_g: float) -> tuple[float | None, float]:
        """The range for so much dry glaze: percent x mass / 100, g. Valid as far as the source's glaze is like this.

        >>> published()[0].grams(8000)
        (8.0, 40.0)
        """
        return None if self.low is None else self.low * dry_g / 100, self.high * dry_g / 100


@lru_cache
def published() -> tuple[Dose, ...]:
    """Every dose of the table; a look-up, no formula."""
    return tuple(
        Dose(
            row["key"],
            row["kind"],
            float(row["low_percent"]) if row["low_percent"] else None,
            float(row["high_percent"]),
            row["mark"],
            row["source"],
        )
        for row in rows("doses")
    )
