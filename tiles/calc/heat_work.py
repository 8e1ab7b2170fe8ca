"""Heat work: which cone a log of temperatures would have bent, and how far towards the next.

A cone bends by time and temperature together. Each cone's dose is the time integral of its rate of bending
(`cone_rates`), and it is down, its tip level with its base, at dose 1. Only what is hotter than first red heat
(500 °C) counts. The rates come from the maker's published end points at steady climbs of 15, 60 and 150 °C/h
(large cones: 60 and 150, small cones: 300; they take the self-supporting cone's activation energy and only their
end point is their own). Every published self-supporting cell is met within 4 °C; between 15 and 150 °C/h that is
what the figure is worth, from 5 to 600 °C/h it is an extrapolation in which no two cones change places. Holds are
not in the published table: see `holds` for what the interval makes of them. A thermocouple's own error comes on
top and is not in the interval. Sources: fixtures/SOURCES.md.
"""

from dataclasses import dataclass

import numpy as np

from inventory.calc.cones import Cone
from tiles.calc.cone_approach import approach_of
from tiles.calc.cone_rates import CONE_TYPES, EDGES, VERSION, Floats, Rates, rates_of
from tiles.calc.findings import Finding
from tiles.calc.heat_findings import findings_of
from tiles.calc.holds import first_fall, hold, last_climb
from tiles.calc.hot_time import HeatWorkError, Readings, tidy, time_in_cells

__all__ = [
    "CONE_TYPES", "VERSION", "HeatWork", "HeatWorkError", "approach", "dose", "end_point_c", "heat_work",
]  # fmt: skip

SLOWEST, FASTEST = 1.0, 2000.0  # °C/h that `end_point_c` takes; sound from 5 to 600
TINY = 1e-300


@dataclass(frozen=True, slots=True)
class HeatWork:
    """What a log amounts to.

    cone: the hottest whole cone down, None when not even the coolest is. fraction: the way to the next whole cone,
    0 to 1, None without cone and at the hottest. With D the dose of the cone and d that of the next,
    ln D / (ln D - ln d): 0 as the one goes down, 1 as the next does, even in temperature under a steady climb, and
    never falling. low, high: whole cones, the ends of the interval; low None = perhaps not even the coolest.
    doses: every cone known of this type, halves too, coolest first. peak_minute: the first reading at the peak.
    rate_c_per_h: the climb over the last 100 °C below the peak, None where the log does not hold it.
    """

    cone: Cone | None
    fraction: float | None
    low: Cone | None
    high: Cone | None
    doses: tuple[tuple[Cone, float], ...]
    peak_c: float
    peak_minute: float
    rate_c_per_h: float | None
    findings: tuple[Finding, ...]


def _rates(cone_type: str) -> Rates:
    if cone_type not in CONE_TYPES:
        raise HeatWorkError("unknown_cone_type", cone_type=cone_type)
    return rates_of(cone_type)


def _index(known: Rates, cone: Cone, cone_type: str) -> int:
    if cone not in known.cones:
        raise HeatWorkError("unknown_cone", cone=cone, cone_type=cone_type)
    return known.cones.index(cone)


def _last_down(known: Rates, doses: Floats) -> Cone | None:
    down = [cone for cone, dose in zip(known.cones, doses, strict=True) if dose >= 1 and not cone.is_half]
    return down[-1] if down else None


def _position(known: Rates, doses: Floats) -> tuple[Cone | None, float | None]:
    """The cone and the fraction; the doses never rise from a cone to the next, because their rates do not."""
    cone = _last_down(known, doses)
    if cone is None:
        return None, None
    whole = [(one, dose) for one, dose in zip(known.cones, doses, strict=True) if not one.is_half]
    after = next((dose for one, dose in whole if one > cone), None)
    if after is None:
        return cone, None
    own, short = (float(np.log(max(value, TINY))) for value in (dict(whole)[cone], after))
    return cone, own / (own - short)


def heat_work(minutes: Readings, celsius: Readings, cone_type: str = "self_supporting") -> HeatWork:
    """Reckon a log: minutes that never run backwards, and °C; NaN readings are passed over.

    Raises HeatWorkError (see there) for a log that cannot be reckoned with. The example climbs at 60 °C/h to the
    1222 °C that the maker publishes for cone 6 at that rate.

    >>> reached = heat_work([0, 1203], [20, 1223]); reached.cone.code, round(reached.rate_c_per_h)
    ('6', 60)
    """
    known = _rates(cone_type)
    times, degrees = tidy(minutes, celsius)
    spent = time_in_cells(times, degrees)
    peak = int(np.argmax(degrees))
    peak_c, rate = float(degrees[peak]), last_climb(times, degrees)
    held = hold(spent, peak_c, rate, first_fall(times, degrees))
    doses, low, high = (known.rates @ time for time in (spent, held.least, held.most))
    cone, fraction = _position(known, doses)
    return HeatWork(
        cone=cone,
        fraction=fraction,
        low=_last_down(known, low),
        high=_last_down(known, high),
        doses=tuple(zip(known.cones, map(float, doses), strict=True)),
        peak_c=peak_c,
        peak_minute=float(times[peak]),
        rate_c_per_h=rate,
        findings=findings_of(times, degrees, rate, cone, known.cones, cone_type, held.minutes),
    )


def dose(minutes: Readings, celsius: Readings, cone: Cone, cone_type: str = "self_supporting") -> float:
    """One cone's dose over a log; 1 is down. Raises HeatWorkError."""
    known = _rates(cone_type)
    rates = known.rates[_index(known, cone, cone_type)]
    return float(rates @ time_in_cells(*tidy(minutes, celsius)))


def end_point_c(cone: Cone, rate_c_per_h: float, cone_type: str = "self_supporting") -> float:
    """°C at which the cone goes down under a steady climb, by adding up its dose along the climb.

    Sound from 5 to 600 °C/h, taken from 1 to 2000; HeatWorkError beyond, and for a cone that is not in the table.
    The published figure of the example is 1222 °C; 4 °C is how near the fit comes to every one.

    >>> abs(end_point_c(Cone.parse("6"), 60) - 1222) < 4
    True
    """
    if not SLOWEST <= rate_c_per_h <= FASTEST:
        raise HeatWorkError("rate_out_of_range", rate_c_per_h=rate_c_per_h)
    known = _rates(cone_type)
    return float(np.interp(rate_c_per_h / 60, known.grown()[_index(known, cone, cone_type)], EDGES))


def approach(
    minutes: Readings, celsius: Readings, cone_type: str = "self_supporting"
) -> tuple[Floats, Floats]:
    """How the cone came: minutes, and the place reached by then on the scale of Cone.rank (6 -> 12, 7 -> 14).

    From the first reading above red heat to the last reading, at most 200 instants and always both ends. NaN before
    the coolest cone is down; at the hottest it stays. Two whole cones stand two ranks apart, the way between is
    HeatWork.fraction. Raises HeatWorkError.
    """
    return approach_of(_rates(cone_type), *tidy(minutes, celsius))
