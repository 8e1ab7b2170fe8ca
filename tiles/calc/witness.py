"""What cone a tile really saw, as far as anything tells: witness cones first, then the log, then the plan."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.calc.cones import Cone

# A cone has reached its end point when its tip is level with its base: 90 angular degrees, 6 o'clock.
# Source: T. Frederich, http://potters.org/subject60350.htm; Dodd & Murfin, Dictionary of Ceramics.
DOWN_DEGREES = 90
# In words the bend has three more steps; where they part is common practice: an eye reads to about 10 degrees.
STANDS_BELOW, NEARLY_FROM = 10, 75
READ_WITHIN = 20  # two readings, each to about 10 degrees
DEGREES_AN_HOUR = 15
BASES = ("witness_here", "witness_firing", "witness_short", "log", "planned", "")


@dataclass(frozen=True, slots=True)
class WitnessReading:
    """One witness cone: where it stood ('' not noted) and its bend in degrees (None: not read yet)."""

    position: str
    cone: Cone
    bend_degrees: int | None


@dataclass(frozen=True, slots=True)
class WitnessResult:
    """The hottest cone down; or none, and then `below` is the coolest cone that was read and is not down."""

    cone: Cone | None
    below: Cone | None = None


@dataclass(frozen=True, slots=True)
class TileCone:
    """A tile's cone and what it rests on (one of BASES).

    With basis 'witness_short' the cone is None and `below` is the coolest cone that is not certain to have
    been reached.
    """

    cone: Cone | None
    basis: str
    below: Cone | None = None


def clock_to_degrees(hours: float) -> int:
    """Bend in degrees from the clock face: 12 -> 0, 6 -> 90, so 15 degrees an hour; 0 <= hours < 13.

    The tip points as the hand of a clock does, and the bend is the line from base to tip, away from the
    upright. A cone bends to an arc: where its tip has turned by 30 degrees an hour, that line has turned by
    half of it (the angle between chord and tangent), so 3 o'clock is 45 degrees and not 90.
    Rounded down, so that nearly six is not down. Half past twelve is 12.5 or 0.5. Raises ValueError outside
    the face. Source of 6 o'clock = 90 degrees: T. Frederich, http://potters.org/subject60350.htm; even
    steps between are common practice, and the geometry of a circle.

    >>> clock_to_degrees(12), clock_to_degrees(3), clock_to_degrees(4), clock_to_degrees(6)
    (0, 45, 60, 90)
    """
    if not 0 <= hours < 13:
        raise ValueError("not_on_the_clock", hours)
    return math.floor(round(DEGREES_AN_HOUR * (hours % 12), 6))


def degrees_to_clock(degrees: float) -> float:
    """The hour at which a tip points that has bent by `degrees` (0 to 120): the other way round, 0 for twelve.

    >>> degrees_to_clock(75)
    5.0
    """
    return degrees / DEGREES_AN_HOUR


def bend_word(degrees: int | None) -> str:
    """What a bend amounts to: '' not read, 'stands', 'bent', 'nearly_down', 'down'.

    Only 'down' proves a cone (source: DOWN_DEGREES above); the others are names for the eye.

    >>> [bend_word(degrees) for degrees in (None, 0, 45, 75, 90)]
    ['', 'stands', 'bent', 'nearly_down', 'down']
    """
    if degrees is None:
        return ""
    if degrees >= DOWN_DEGREES:
        return "down"
    if degrees >= NEARLY_FROM:
        return "nearly_down"
    return "bent" if degrees >= STANDS_BELOW else "stands"


def cone_by_witness(readings: Iterable[WitnessReading]) -> WitnessResult | None:
    """The hottest cone down at one place; None when no bend was read there.

    Down is a bend of 90 degrees or more (source: DOWN_DEGREES above).

    >>> six = Cone.parse("6")
    >>> cone_by_witness([WitnessReading("top", six, 80)]) == WitnessResult(None, below=six)
    True
    """
    read = [reading for reading in readings if reading.bend_degrees is not None]
    if not read:
        return None
    down = [reading.cone for reading in read if (reading.bend_degrees or 0) >= DOWN_DEGREES]
    if down:
        return WitnessResult(max(down))
    return WitnessResult(None, below=min(reading.cone for reading in read))


def contradictions(readings: Iterable[WitnessReading]) -> list[tuple[str, Cone, Cone]]:
    """(position, cooler cone, hotter cone) wherever the hotter of two cones bent clearly further than the cooler.

    No firing bends them so: one was read wrongly or is another cone than it is taken for. Of each cooler cone one is
    told. Both down is none: by how much a cone lies says nothing any more.

    >>> five, six = Cone.parse("5"), Cone.parse("6")
    >>> said = contradictions([WitnessReading("top", five, 30), WitnessReading("top", six, 90)])
    >>> [(position, cooler.code, hotter.code) for position, cooler, hotter in said]
    [('top', '5', '6')]
    """
    read = [(one, one.bend_degrees) for one in readings if one.bend_degrees is not None]
    found: dict[tuple[str, Cone], Cone] = {}
    for cooler, less in read:
        for hotter, more in read:
            same = cooler.position == hotter.position and cooler.cone < hotter.cone
            if same and less < DOWN_DEGREES and more > less + READ_WITHIN:
                found.setdefault((cooler.position, cooler.cone), hotter.cone)
    return [(position, cooler, hotter) for (position, cooler), hotter in found.items()]


def cone_of_firing(readings: Sequence[WitnessReading]) -> WitnessResult | None:
    """What the whole load certainly saw: the coolest of its positions' results.

    The coolest and not the hottest, because kilns are uneven and the tile may have stood in the cool place:
    the hottest would call an underfired, porous tile mature. So one place where no cone fell leaves the
    whole load unproved, `below` the coolest such cone.
    """
    at_each = [
        cone_by_witness(reading for reading in readings if reading.position == position)
        for position in {reading.position for reading in readings}
    ]
    results = [result for result in at_each if result]
    if not results:
        return None
    short = [result.below for result in results if result.below]
    if short:
        return WitnessResult(None, below=min(short))
    return WitnessResult(min(result.cone for result in results if result.cone))


def tile_cone(
    position: str,
    readings: Sequence[WitnessReading],
    log_cone: Cone | None,
    target: Cone | None,
    fired: bool,
    stopped_early: bool,
) -> TileCone:
    """The cone of a tile that stood at `position` ('' not noted), by the best evidence that there is.

    In this order: the witness at its position, the witnesses of the firing (`cone_of_firing`), the
    controller's log, the target, this last only if the firing ran to its end. Witnesses that were read and
    of which none is down are evidence too: they are never overruled by the log or the plan.

    >>> five, six = Cone.parse("5"), Cone.parse("6")
    >>> seen = [WitnessReading("top", six, 95), WitnessReading("bottom", five, 90)]
    >>> [tile_cone(place, seen, None, six, True, False).cone.code for place in ("top", "")]
    ['6', '5']
    """
    here = [reading for reading in readings if position and reading.position == position]
    for basis, result in (
        ("witness_here", cone_by_witness(here)),
        ("witness_firing", cone_of_firing(readings)),
    ):
        if result:
            return TileCone(result.cone, basis if result.cone else "witness_short", result.below)
    if log_cone:
        return TileCone(log_cone, "log")
    if target and fired and not stopped_early:
        return TileCone(target, "planned")
    return TileCone(None, "")
