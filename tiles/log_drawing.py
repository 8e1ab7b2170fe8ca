"""A small drawing of a log, to see at a glance whether it was read as what it is."""

from dataclasses import dataclass

import numpy as np

from tiles.calc.downsample import downsample
from tiles.calc.readings import Celsius, Seconds

WIDTH, HEIGHT, POINTS = 600, 200, 400


@dataclass(frozen=True, slots=True)
class Sketch:
    """`lines` are the points of each unbroken line; the drawing is WIDTH by HEIGHT."""

    lines: list[str]
    hours: float
    low: float
    high: float
    width: int = WIDTH
    height: int = HEIGHT


def sketch(seconds: Seconds, celsius: Celsius) -> Sketch | None:
    """The log as a line from its coldest to its hottest, broken where nothing was said; None without a reading."""
    if np.isnan(celsius).all():
        return None
    minutes, heat = downsample(seconds / 60, celsius, POINTS)
    low, high = float(np.nanmin(heat)), float(np.nanmax(heat))
    across = WIDTH / max(float(minutes[-1]), 1)
    up = HEIGHT / max(high - low, 1)
    lines: list[list[str]] = []
    line: list[str] = []
    for minute, degrees in zip(minutes, heat, strict=True):
        if np.isnan(degrees):
            lines, line = [*lines, line], []
        else:
            line.append(f"{minute * across:.1f},{HEIGHT - (degrees - low) * up:.1f}")
    drawn = [" ".join(points) for points in [*lines, line] if points]
    return Sketch(drawn, float(minutes[-1]) / 60, low, high)
