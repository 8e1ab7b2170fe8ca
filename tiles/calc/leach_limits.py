"""Published limits for lead and cadmium released by fired ware, from fixtures/leach_limits.csv (SOURCES.md)."""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal

from inventory.calc.fixtures import rows

METALS = {
    "Pb": "lead",
    "Cd": "cadmium",
    "Al": "aluminium",
    "As": "arsenic",
    "B": "boron",
    "Ba": "barium",
    "Co": "cobalt",
    "Cr": "chromium",
    "Cu": "copper",
    "Li": "lithium",
    "Mn": "manganese",
    "Ni": "nickel",
    "Sb": "antimony",
    "V": "vanadium",
    "Zn": "zinc",
}
UNITS = ("mg_per_l", "mg_per_dm2")


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one standard. `mark` is of the number, `rule_mark` of basis and samples: read, read-2nd, memory.

    `own_category` is what the standard itself calls the ware; `kind`: limit, action level or warning level.
    """

    standard: str
    version: str
    category: str
    own_category: str
    metal: str
    limit: Decimal
    unit: str
    basis: Literal["mean", "each"]
    samples: int
    kind: str
    mark: str
    rule_mark: str
    read_on: str
    citation: str

    @property
    def is_unverified(self) -> bool:
        """Nobody read the number in any source."""
        return self.mark == "memory"

    @property
    def is_rule_unverified(self) -> bool:
        """Nobody read in any source how many pieces are judged, and how."""
        return self.rule_mark == "memory"


@lru_cache
def published() -> tuple[Limit, ...]:
    """Every limit of the table, in its order; a look-up, no formula.

    >>> next(limit.limit for limit in published() if limit.standard == "us-fda")
    Decimal('3.0')
    """
    return tuple(_limit(row) for row in rows("leach_limits"))


def _limit(row: dict[str, Any]) -> Limit:
    return Limit(**(row | {"limit": Decimal(row["limit"]), "samples": int(row["samples"])}))


def standards() -> list[str]:
    """The codes of all standards, in the table's order."""
    return list(dict.fromkeys(limit.standard for limit in published()))


def categories(standard: str) -> list[str]:
    """The codes of the ware that a standard has limits for; empty for a standard that is not in the table.

    >>> "pitchers" in categories("iso-6486-2")
    False
    """
    return list(dict.fromkeys(limit.category for limit in published() if limit.standard == standard))


def limits(standard: str, category: str) -> dict[str, Limit]:
    """Metal -> limit of one kind of ware; empty where the standard has none."""
    return {
        limit.metal: limit
        for limit in published()
        if limit.standard == standard and limit.category == category
    }
