"""How fast, how long and how hot is usual, from fixtures/firing_rates.csv (fixtures/SOURCES.md)."""

from functools import lru_cache

from inventory.calc.cones import Cone
from inventory.calc.fixtures import rows


@lru_cache(maxsize=1)
def _table() -> dict[str, str]:
    return {row["key"]: row["value"] for row in rows("firing_rates")}


def rate(key: str) -> float:
    """A figure of the table in its own unit (°C, °C/h or minutes); a look-up, no formula. KeyError: no such key.

    >>> rate("quartz_c")
    573.0
    """
    return float(_table()[key])


def usual_cone(key: str) -> Cone:
    """A cone of the table.

    >>> usual_cone("bisque_hottest").code
    '04'
    """
    return Cone.parse(_table()[key])
