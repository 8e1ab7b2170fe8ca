"""Fits the cones' rates to the maker's table: what `manage.py fit_cones` writes to fixtures/heat_work.csv.

Every self-supporting cone gets an end point at 60 °C/h and one activation energy E. All are fitted together by
damped least squares (Levenberg and Marquardt), through the simulated climb: a cone's end point at a rate is where
the integral of its rate from first red heat reaches that rate (`cone_rates.climbs`). Beside the misses of the
cells the sum of squares holds three wishes: no cell further off than HINGE_C; every cone at least GAP_C above the
one before at each of RATES, which bound all rates between because ln(rate) is close to straight in 1/T; and a
ln(E) that bends little from cone to cone (second differences times SMOOTHNESS).
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from inventory.calc.cones import SELF_SUPPORTING, Cone
from tiles.calc.cone_rates import CONE_TYPES, RED_C, TOP_C, Floats, climbs

PUBLISHED_TYPES = dict(zip(CONE_TYPES, (SELF_SUPPORTING, "large regular", "small regular"), strict=True))
RATES = np.array(
    [5.0, 15.0, 60.0, 150.0, 300.0, 600.0]
)  # °C/h; the outer two only for the order of the cones
EDGES = np.linspace(RED_C, TOP_C, round(TOP_C - RED_C) + 1)
HINGE_C, GAP_C, WEIGHT = 3.5, 2.0, 30.0
SMOOTHNESS = 20.0
FIRST_E = 600.0  # kJ/mol; where the search begins
AT_60 = 2  # where 60 °C/h stands in RATES

Cells = Mapping[tuple[Cone, float], float]  # (cone, °C/h): published end point in °C


@dataclass(frozen=True, slots=True)
class Fitted:
    """One row of fixtures/heat_work.csv."""

    cone: Cone
    cone_type: str
    e_kj_per_mol: float
    end_60_c: float


def end_points(energies: Floats, ends_60_c: Floats, rates: Floats = RATES) -> Floats:
    """°C at which each cone goes down (rows) at each steady rate of climb in °C/h (columns)."""
    logs = np.log(np.maximum(climbs(energies, ends_60_c, EDGES), 1e-300))
    return np.array([np.interp(np.log(rates / 60), row, EDGES) for row in logs])


def _table(cones: tuple[Cone, ...], cells: Cells) -> Floats:
    return np.array([[cells.get((cone, rate), np.nan) for rate in RATES] for cone in cones])


def _bends(cones: tuple[Cone, ...]) -> Floats:
    """The matrix of second differences over whole cones; halves stand half a step from their neighbours."""
    at = np.array([cone.rank / 2 for cone in cones])
    found = np.zeros((len(cones) - 2, len(cones)))
    for row in range(len(cones) - 2):
        near, far = at[row + 1] - at[row], at[row + 2] - at[row + 1]
        found[row, row : row + 3] = (
            2 / (near * (near + far)),
            -2 / (near * far),
            2 / (far * (near + far)),
        )
    return found


def fit_together(cells: Cells, hinge_c: float = HINGE_C, turns: int = 80) -> tuple[Fitted, ...]:
    """The self-supporting cones of a table, fitted as the module says, coolest first. At least three cones.

    >>> table = {(Cone(rank), rate): 1000 + 10 * rank + 20 * np.log(rate) for rank in (2, 4, 6) for rate in RATES}
    >>> [fitted.cone.code for fitted in fit_together(table)]
    ['1', '2', '3']
    """
    cones = tuple(sorted({cone for cone, _rate in cells}))
    table, bends, count = _table(cones, cells), _bends(cones), len(cones)
    known = ~np.isnan(table)

    def misses(ends: Floats, log_e: Floats) -> Floats:
        off = (ends - table)[known]
        too_far = np.sign(off) * np.maximum(np.abs(off) - hinge_c, 0) * WEIGHT
        too_near = np.maximum(GAP_C - np.diff(ends, axis=0), 0) * WEIGHT
        return np.concatenate([off, too_far, too_near.ravel(), SMOOTHNESS * (bends @ log_e)])

    def ends_of(at: Floats) -> Floats:
        return end_points(np.exp(at[count:]), at[:count])

    def slopes(at: Floats, ends: Floats, off: Floats) -> Floats:
        """Each unknown moves only its own cone's end points: two runs give all of them."""
        found = np.empty((len(off), 2 * count))
        for first, step in ((0, 0.1), (count, 1e-3)):
            moved = at.copy()
            moved[first : first + count] += step
            moved_ends = ends_of(moved)
            for cone in range(count):
                one, log_e = ends.copy(), at[count:].copy()
                one[cone] = moved_ends[cone]
                log_e[cone] = moved[count + cone]
                found[:, first + cone] = (misses(one, log_e) - off) / step
        return found

    start = [
        row[AT_60] if known_row[AT_60] else np.nanmean(row)
        for row, known_row in zip(table, known, strict=True)
    ]
    at = np.concatenate([np.maximum.accumulate(start), np.full(count, np.log(FIRST_E))])
    ends = ends_of(at)
    off = misses(ends, at[count:])
    damping = 1.0
    for _turn in range(turns):
        matrix = slopes(at, ends, off)
        square, downhill = matrix.T @ matrix, -matrix.T @ off
        better = False
        while not better and damping < 1e9:
            moved = at + np.linalg.solve(square + damping * np.diag(np.diag(square)), downhill)
            moved_ends = ends_of(moved)
            moved_off = misses(moved_ends, moved[count:])
            better = bool(moved_off @ moved_off < off @ off)
            damping *= 0.2 if better else 4
        if not better:
            break
        settled = off @ off - moved_off @ moved_off < 1e-10 * (off @ off)
        at, ends, off = moved, moved_ends, moved_off
        if settled:
            break
    found = zip(cones, np.exp(at[count:]), at[:count], strict=True)
    return tuple(Fitted(cone, CONE_TYPES[0], float(e), float(end)) for cone, e, end in found)


def tied(cone_type: str, cells: Cells, to: tuple[Fitted, ...]) -> tuple[Fitted, ...]:
    """Large and small cones: too few cells for an E of their own, so each takes the self-supporting cone's E.

    Only the end point moves, by the mean of what the type's cells differ from the self-supporting fit.
    """
    found = []
    for one in to:
        own = [(rate, celsius) for (cone, rate), celsius in cells.items() if cone == one.cone]
        if own:
            rates, celsius = (np.array(column) for column in zip(*own, strict=True))
            energy, end = np.array([one.e_kj_per_mol]), one.end_60_c
            for _turn in range(4):  # moving the end point at 60 °C/h moves the others by nearly as much
                end += float(np.mean(celsius - end_points(energy, np.array([end]), rates)[0]))
            found.append(Fitted(one.cone, cone_type, one.e_kj_per_mol, end))
    return tuple(found)


def fit(published: Mapping[str, Cells]) -> tuple[Fitted, ...]:
    """All three types, from the cells of each (keys: the types of fixtures/cones.csv)."""
    first = fit_together(published[SELF_SUPPORTING])
    others = [tied(ours, published[theirs], first) for ours, theirs in list(PUBLISHED_TYPES.items())[1:]]
    return first + tuple(row for rows in others for row in rows)
