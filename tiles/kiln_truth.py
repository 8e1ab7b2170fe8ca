"""What a kiln really does, from its own history: each shelf's offset, and log against witness cones."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from inventory.calc.cones import Cone, celsius_at_60
from tiles.calc.cooling_trouble import rates
from tiles.calc.heat_work import dose
from tiles.calc.kiln_offset import ConeSeen, ShelfOffset, shelf_offset, shift_that_fells
from tiles.calc.witness import WitnessReading, WitnessResult, cone_by_witness
from tiles.logs import log_of, readings_of
from tiles.models import Firing, Kiln, PartChange, WitnessCone

# Older firings say little of how the kiln is now, and each costs time.
MOST_FIRINGS = 40
SHOWN_HOT_C = 1200.0


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One firing: what its log amounts to, and at each position what the witness cones say."""

    firing: Firing
    witness: tuple[tuple[str, WitnessResult], ...]
    counts: bool


class KilnTruth:
    """The history of one kiln, read in a few queries and reckoned when it is asked for."""

    def __init__(self, kiln: Kiln) -> None:
        self.kiln = kiln

    @cached_property
    def since(self) -> date | None:
        """The day of the last thermocouple: what its forerunner said does not count."""
        changes = self.kiln.part_changes.filter(part=PartChange.Part.THERMOCOUPLE, taken_back_at=None)
        return changes.values_list("changed_on", flat=True).first()

    @cached_property
    def firings(self) -> list[Firing]:
        """The newest ones that have been hot."""
        rows = self.kiln.firings.filter(state__in=Firing.BEEN_HOT).select_related("log")
        return list(rows.prefetch_related("witness_cones").order_by("-number")[:MOST_FIRINGS])

    @cached_property
    def history(self) -> list[HistoryLine]:
        """Every firing whose witness cones were read, newest first."""
        lines = []
        for firing in self.firings:
            read = [cone for cone in firing.witness_cones.all() if cone.bend_degrees is not None]
            if read:
                has_log = log_of(firing) is not None
                counts = has_log and self._is_recent(firing) and any(cone.position for cone in read)
                lines.append(HistoryLine(firing, _by_position(read), counts))
        return lines

    @cached_property
    def seen(self) -> list[ConeSeen]:
        """Every cone that counts, with the shift of the log that would just have felled it."""
        return [one for line in self.history if line.counts for one in _cones_seen(line.firing)]

    @cached_property
    def shelves(self) -> list[ShelfOffset]:
        """The kiln's positions from the top down, then others that cones stood at."""
        others = sorted({one.position for one in self.seen} - set(self.kiln.positions))
        hottest = self.kiln.highest_cone and celsius_at_60(self.kiln.highest_cone.whole_below())
        where = min(float(hottest or SHOWN_HOT_C), SHOWN_HOT_C)
        return [
            shelf_offset(position, self.seen, self.kiln.thermocouple, where)
            for position in [*self.kiln.positions, *others]
        ]

    @property
    def counted(self) -> int:
        """Firings that the offsets rest on."""
        return len({one.firing for one in self.seen})

    @cached_property
    def fastest(self) -> tuple[float | None, float | None]:
        """The fastest climb and the fastest fall that its logs show, in °C/h."""
        logs = [read for firing in self.firings if (read := readings_of(firing))]
        found = [rates(read.seconds, read.counted) for read in logs]
        climbs, falls = [up for up, _d in found if up], [down for _u, down in found if down]
        return max(climbs, default=None), max(falls, default=None)

    def _is_recent(self, firing: Firing) -> bool:
        return not self.since or bool(firing.started_at and firing.started_at.date() >= self.since)


def _by_position(read: list[WitnessCone]) -> tuple[tuple[str, WitnessResult], ...]:
    found = []
    for position in dict.fromkeys(cone.position for cone in read):
        here = [
            WitnessReading(cone.position, cone.cone, cone.bend_degrees)
            for cone in read
            if cone.position == position
        ]
        if result := cone_by_witness(here):
            found.append((position, result))
    return tuple(found)


def _cones_seen(firing: Firing) -> list[ConeSeen]:
    read = readings_of(firing)
    shifts: dict[tuple[Cone, str], float | None] = {}
    found = []
    for cone in firing.witness_cones.all():
        if read is None or cone.bend_degrees is None or not cone.position:
            continue
        key = (cone.cone, cone.cone_type)
        if key not in shifts:
            shifts[key] = shift_that_fells(read.minutes, read.counted, *key, dose)
        shift = shifts[key]
        if shift is not None:
            found.append(ConeSeen(firing.number, cone.position, cone.bend_degrees, shift))
    return found
