"""A witness cone bent so far, as a drawing to hold beside the real one."""

import math
from dataclasses import dataclass

from tiles.calc.witness import degrees_to_clock

SHOWN = (0, 30, 45, 60, 75, 90)
WIDTH, HEIGHT, BASE_Y = 84, 80, 70
LENGTH, THICK, TIP = 58, 13, 3  # the cone along its middle, and how broad it is at base and tip
STEPS = 16


@dataclass(frozen=True, slots=True)
class BentCone:
    """The outline of a cone, the line of its base, and where its tip is; `hour` as on a clock."""

    degrees: int
    hour: str
    outline: str
    base: str
    tip: tuple[float, float]
    width: int = WIDTH
    height: int = HEIGHT


def spine(degrees: float, share: float) -> tuple[float, float, float]:
    """x and y (upwards) of a point at `share` of the cone's length, and its direction from the upright in radians.

    The cone bends to an arc of a circle: its tip has turned by twice the angle at which it is seen from the base.

    >>> x, y, turned = spine(90, 1)
    >>> round(y, 9), round(math.degrees(turned))
    (0.0, 180)
    """
    whole = 2 * math.radians(degrees)
    turned = whole * share
    if whole < 1e-9:
        return 0.0, LENGTH * share, 0.0
    radius = LENGTH / whole
    return radius * (1 - math.cos(turned)), radius * math.sin(turned), turned


def bent_cone(degrees: int) -> BentCone:
    """The drawing of a bend from 0 to 90 degrees: the tip is level with the base at 90."""
    left, right = [], []
    x0 = 24
    for step in range(STEPS + 1):
        share = step / STEPS
        x, y, turned = spine(degrees, share)
        half = (THICK + (TIP - THICK) * share) / 2
        across, up = math.cos(turned) * half, -math.sin(turned) * half
        left.append((x0 + x - across, BASE_Y - (y - up)))
        right.append((x0 + x + across, BASE_Y - (y + up)))
    points = " ".join(f"{x:.1f} {y:.1f}" for x, y in [*left, *reversed(right)])
    x, y, _turned = spine(degrees, 1)
    hour = f"{degrees_to_clock(degrees) or 12:g}"
    return BentCone(degrees, hour, f"M{points}Z", f"M4 {BASE_Y}H{WIDTH - 4}", (x0 + x, BASE_Y - y))


def bent_cones() -> list[BentCone]:
    return [bent_cone(degrees) for degrees in SHOWN]
