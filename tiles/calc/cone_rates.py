"""How fast each cone bends at each temperature, tabulated once from fixtures/heat_work.csv.

A cone's dose grows at k(T) = A exp(-E / R T) a minute, T in kelvin; at dose 1 the cone is down. Under a constant
climb of b °C/min the dose is F(T) / b, where F(T) is the integral of k from first red heat to T; so F is also
the rate of climb under which the cone goes down at T. The file gives, for each cone and type, E (kJ/mol) and the
end point at 60 °C/h (1 °C/min), from which A follows: F(end point) = 1.

k is kept constant within each cell of 0.2 °C, which makes every integral a sum over the time spent in each cell.
Where two neighbours' lines would cross, far from any rate of climb a kiln knows, the cooler cone takes the hotter
one's k: no firing whatever can bend a hotter cone before a cooler one.
"""

import hashlib
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from inventory.calc.cones import Cone
from inventory.calc.fixtures import path_of, rows

Floats = NDArray[np.float64]

GAS_KJ_PER_MOL_K = 8.314462618e-3  # CODATA 2018, exact
ZERO_C_IN_K = 273.15
RED_C = 500.0  # first red heat in the dark, about: what is cooler bends no cone of the table
TOP_C = 1500.0  # above every end point; hotter readings count as this
CELL_C = 0.2
CELLS = round((TOP_C - RED_C) / CELL_C)
EDGES: Floats = np.linspace(RED_C, TOP_C, CELLS + 1)
COEFFICIENTS = path_of("heat_work")
VERSION = hashlib.sha256(COEFFICIENTS.read_bytes()).hexdigest()[:16]
CONE_TYPES = ("self_supporting", "large", "small")


@dataclass(frozen=True, slots=True)
class Rates:
    """The cones of one type, coolest first; `rates[i, j]` is cone i's dose per minute in cell j."""

    cones: tuple[Cone, ...]
    rates: Floats

    def grown(self) -> Floats:
        """F at every edge of a cell: °C/min under which each cone is down at that temperature."""
        grown = np.cumsum(self.rates, axis=1) * CELL_C
        return np.concatenate([np.zeros((len(self.cones), 1)), grown], axis=1)


def climbs(energies: Floats, ends_60_c: Floats, edges: Floats = EDGES) -> Floats:
    """F (°C/min) of each cone at each edge, from E (kJ/mol) and the end point at 60 °C/h (°C).

    Each cell is integrated as an exponential between its edges, so that a wide cell does as well as a narrow one.
    """
    per_kelvin = energies[:, None] / GAS_KJ_PER_MOL_K
    log_k = per_kelvin * (1 / (ends_60_c[:, None] + ZERO_C_IN_K) - 1 / (edges[None] + ZERO_C_IN_K))
    grown = np.diff(np.exp(log_k), axis=1) * np.diff(edges) / np.diff(log_k, axis=1)
    found = np.concatenate([np.zeros((len(energies), 1)), np.cumsum(grown, axis=1)], axis=1)
    at_60 = [np.interp(end, edges, row) for end, row in zip(ends_60_c, found, strict=True)]
    return found / np.array(at_60)[:, None]


@lru_cache(maxsize=len(CONE_TYPES))
def rates_of(cone_type: str) -> Rates:
    """The tabulated cones of one of CONE_TYPES; KeyError for another type.

    >>> rates_of("self_supporting").cones[0].code
    '022'
    """
    found = [row for row in rows("heat_work") if row["type"] == cone_type]
    if not found:
        raise KeyError(cone_type)
    found.sort(key=lambda row: Cone.parse(row["cone"]))
    energies, ends = (np.array([float(row[name]) for row in found]) for name in ("e_kj_per_mol", "end_60_c"))
    rates = np.diff(climbs(energies, ends), axis=1) / CELL_C
    ordered = np.ascontiguousarray(np.maximum.accumulate(rates[::-1])[::-1])
    ordered.setflags(write=False)
    return Rates(tuple(Cone.parse(row["cone"]) for row in found), ordered)
