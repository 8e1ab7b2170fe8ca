"""What a firing took from the mains: by the meter, or by the kiln's power and the hours of its climb."""

from dataclasses import dataclass

import numpy as np

# Voltage at the socket may differ by ±10 % (EN 50160), and power goes with its square; old elements give less.
# From memory, so it only widens what is shown.
POWER_SHARE = 0.2
NEAR_PEAK_C = 10


@dataclass(frozen=True, slots=True)
class Energy:
    """kWh with its interval. `basis`: 'meter', 'duty', or 'at_most' (duty not known: then only `high` is)."""

    basis: str
    kwh: float | None
    low: float | None
    high: float


def climb_hours(minutes: np.ndarray, celsius: np.ndarray) -> float | None:
    """Hours from the first reading to the last one within NEAR_PEAK_C of the hottest: the climb and its hold.

    >>> climb_hours(np.array([0, 60, 120, 150, 300]), np.array([20, 600, 1222, 1220, 700]))
    2.5
    """
    known = np.isfinite(celsius)
    if not known.any():
        return None
    clock, heat = np.asarray(minutes, float)[known], np.asarray(celsius, float)[known]
    return float(clock[np.flatnonzero(heat >= heat.max() - NEAR_PEAK_C)[-1]] - clock[0]) / 60


def energy(
    hours: float | None, power_kw: float | None, duty_percent: float | None, kwh_read: float | None = None
) -> Energy | None:
    """kWh = kW · duty · hours, ±20 % for mains and elements, at most the full power; None without power or climb.

    What was read from the meter comes first and has no interval.

    >>> energy(10, 6, 60), energy(10, 6, None).high, energy(None, None, None, 41.5).kwh
    (Energy(basis='duty', kwh=36.0, low=28.8, high=43.2), 72.0, 41.5)
    """
    if kwh_read is not None:
        return Energy("meter", kwh_read, kwh_read, kwh_read)
    if power_kw is None or hours is None or hours <= 0:
        return None
    whole = hours * power_kw * (1 + POWER_SHARE)
    if duty_percent is None:
        return Energy("at_most", None, None, round(whole, 6))
    middle = hours * power_kw * duty_percent / 100
    ends = middle * (1 - POWER_SHARE), min(middle * (1 + POWER_SHARE), whole)
    return Energy("duty", *(round(value, 6) for value in (middle, *ends)))
