"""The published figures of fixtures/*.csv, as they stand there; what each rests on is in fixtures/SOURCES.md."""

import csv
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "fixtures"


def path_of(name: str) -> Path:
    """Where a table lies."""
    return FOLDER / f"{name}.csv"


def rows(name: str) -> list[dict[str, str]]:
    """Every row of a table by its columns, in the table's order; a look-up, no formula.

    >>> rows("hazards")[0]["substance"]
    'Pb'
    """
    with path_of(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
