"""How fast, how long and how hot is usual, from fixtures/firing_rates.csv (fixtures/SOURCES.md)."""

import csv
from functools import lru_cache
from pathlib import Path

from inventory.calc.cones import Cone

TABLE = Path(__file__).resolve().parents[2] / "fixtures" / "firing_rates.csv"


@lru_cache(maxsize=1)
def _table() -> dict[str, str]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return {row["key"]: row["value"] for row in csv.DictReader(file)}


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
