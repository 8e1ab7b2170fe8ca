"""What raw glaze materials do to whoever handles them, from fixtures/hazards.csv (fixtures/SOURCES.md)."""

from dataclasses import dataclass
from functools import lru_cache

from inventory.calc.fixtures import rows

SILICA = "silica"  # is in every raw glaze and clay
# Which of them calls for gloves and a mask when it is on skin or in spray, rather than for clean hands alone.
GRAVE = ("toxic", "dust", "unknown")


@dataclass(frozen=True, slots=True)
class Hazard:
    """`group` and each of `also` name a caution; `limit_mg_per_m3` in air, None where none was read.

    `basis` is 'twa' (over eight hours) or 'ceiling'; `mark` is 'read', 'read-2nd' or 'memory'.
    """

    substance: str
    group: str
    also: tuple[str, ...]
    limit_mg_per_m3: float | None
    basis: str
    limit_of: str
    mark: str
    source: str

    @property
    def is_grave(self) -> bool:
        return self.group in GRAVE


@lru_cache
def hazards() -> dict[str, Hazard]:
    """Every row of the table by its substance; a look-up, no formula.

    >>> hazards()["Co"].limit_mg_per_m3
    0.1
    """
    found = [
        Hazard(
            row["substance"],
            row["group"],
            tuple(row["also"].split()),
            float(row["limit_mg_per_m3"]) if row["limit_mg_per_m3"] else None,
            row["basis"],
            row["limit_of"],
            row["mark"],
            row["source"],
        )
        for row in rows("hazards")
    ]
    return {row.substance: row for row in found}
