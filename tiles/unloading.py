"""What stands in a fired kiln, in the order in which it is taken out: place after place, then by number."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Exists, OuterRef, Prefetch

from studio.models import Person
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.tiles import GONE
from tiles.actions.unloading import FIRING
from tiles.calc.ranges import natural
from tiles.models import Firing, LookDraft, Outcome, Tile, TileFiring


@dataclass(frozen=True, slots=True)
class Stop:
    """One tile of the unloading. `is_gone`: it is written down as lost or broken."""

    row: TileFiring
    is_done: bool
    is_begun: bool

    @property
    def tile(self) -> Tile:
        return self.row.tile

    @property
    def is_gone(self) -> bool:
        return self.tile.state in GONE

    @property
    def is_open(self) -> bool:
        return not self.is_done and not self.is_gone


def is_unloadable(firing: Firing) -> bool:
    """It has come out of the kiln, and there is glaze to look at."""
    return firing.state in OUT_OF_THE_KILN and firing.kind != Firing.Kind.BISQUE


def stops(firing: Firing, person: Person, *, hung: bool = False) -> list[Stop]:
    """The tiles of a firing that the person may see; `hung` with everything that a card shows."""
    seen: Any = Tile.objects.visible_to(person)
    tiles = seen.for_the_wall() if hung else seen
    rows: Any = firing.tile_firings.filter(tile__in=seen).prefetch_related(Prefetch("tile", tiles))
    looks = Outcome.objects.filter(firing=firing, tile=OuterRef("tile"))
    drafts = LookDraft.objects.filter(person=person, tile__tile_firings__firing=firing)
    begun = {d.tile_id for d in drafts if d.data.get(FIRING) == [str(firing.pk)]}
    places = {place: order for order, place in enumerate(firing.kiln.positions)}
    found = [Stop(row, row.is_done, row.tile_id in begun) for row in rows.annotate(is_done=Exists(looks))]
    return sorted(found, key=lambda stop: _walk(stop, places))


def _walk(stop: Stop, places: dict[str, int]) -> tuple[Any, ...]:
    return places.get(stop.row.position, 99), stop.row.position, natural(stop.tile.number)


def next_stop(found: list[Stop], after: Tile | None = None) -> Stop | None:
    """The next tile that nobody has looked at: behind `after`, or from the beginning."""
    passed = after is None
    for stop in found:
        if passed and stop.is_open:
            return stop
        passed = passed or stop.tile == after
    return None
