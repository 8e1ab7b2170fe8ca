"""A log as a table for a spreadsheet, which can be read in again."""

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from studio.exports import csv_lines
from tiles.logs import Readings

COLUMNS = ("elapsed_s", "at", "celsius")


def log_lines(readings: Readings) -> Iterator[str]:
    """A line for each reading: seconds since the first, the moment in UTC where it is known, and °C."""

    def cells(reading: tuple[int, float]) -> list[object]:
        second, celsius = reading
        at = readings.begins_at + timedelta(seconds=second) if readings.begins_at else None
        said = "" if np.isnan(celsius) else f"{celsius:.1f}"
        return [second, at.isoformat(timespec="seconds") if at else "", said]

    pairs = zip(readings.seconds.tolist(), readings.celsius.tolist(), strict=True)
    return csv_lines(COLUMNS, pairs, cells)
