"""What is in a kiln, position by position: for the page that fills it and the sheet that lies beside it."""

from dataclasses import dataclass, field
from typing import Any

from django.db.models import Prefetch

from studio.models import Person
from tiles.actions.stops import Stopped, stopped_rows
from tiles.models import Firing, Piece, Tile, TileFiring


@dataclass(slots=True)
class Shelf:
    """One position of a kiln with what stands there; '' is the position that was not noted."""

    position: str
    tiles: list[TileFiring] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    hidden: int = 0

    @property
    def count(self) -> int:
        return len(self.tiles) + self.hidden + sum(piece.count for piece in self.pieces)


def rows_seen(firing: Firing, person: Person) -> list[TileFiring]:
    """The tiles of a firing that the person may see, each ready to be hung, in the kiln's own order."""
    seen: Any = Tile.objects.visible_to(person)
    inside = firing.tile_firings.filter(tile__in=seen).prefetch_related(Prefetch("tile", seen.for_the_wall()))
    order = _order(firing)
    return sorted(inside, key=lambda row: (order.get(row.position, 99), row.position, row.tile.number))


def pieces_in(firing: Firing) -> list[Piece]:
    return [*firing.pieces.filter(taken_out_at=None).select_related("owner", "body")]


def shelves(firing: Firing, rows: list[TileFiring]) -> list[Shelf]:
    """Every position of the kiln, also an empty one, and any other that something stands in."""
    found = {place: Shelf(place) for place in firing.kiln.positions}

    def at(position: str) -> Shelf:
        return found.setdefault(position, Shelf(position))

    for row in rows:
        at(row.position).tiles.append(row)
    for piece in pieces_in(firing):
        at(piece.position).pieces.append(piece)
    shown = {row.pk for row in rows}
    for pk, position in firing.tile_firings.values_list("pk", "position"):
        if pk not in shown:
            at(position).hidden += 1
    order = _order(firing)
    return sorted(found.values(), key=lambda shelf: (order.get(shelf.position, 99), shelf.position))


def stopped_for(firing: Firing, rows: list[TileFiring]) -> list[Stopped]:
    """What is stopped, as far as the person sees it: `rows` are the tiles that they may see."""
    shown = {row.pk for row in rows}
    return [one for one in stopped_rows(firing) if not isinstance(one.row, TileFiring) or one.row.pk in shown]


def _order(firing: Firing) -> dict[str, int]:
    return {place: order for order, place in enumerate(firing.kiln.positions)}
