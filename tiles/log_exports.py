"""A log as a table for a spreadsheet, which can be read in again."""

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from tiles.logs import Readings

COLUMNS = ("elapsed_s", "at", "celsius")


def log_lines(readings: Readings) -> Iterator[str]:
    """A line for each reading: seconds since the first, the moment in UTC where it is known, and °C.

    Numbers and moments only, so no cell wants guarding: a reading of -5 °C stays a number.
    """
    yield ",".join(COLUMNS) + "\r\n"
    for second, celsius in zip(readings.seconds.tolist(), readings.celsius.tolist(), strict=True):
        at = readings.begins_at + timedelta(seconds=second) if readings.begins_at else None
        said = "" if np.isnan(celsius) else f"{celsius:.1f}"
        yield f"{second},{at.isoformat(timespec='seconds') if at else ''},{said}\r\n"
