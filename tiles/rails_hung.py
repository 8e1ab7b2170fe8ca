"""The rails of the wall, however it hangs: each tile says what its rail does not, and where to find it."""

from calendar import monthrange
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import date
from itertools import groupby
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from inventory.models import Surface
from inventory.walk import Walk
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.models import Tile
from tiles.rails import Rail, by_cone, on_rail


def hung_by(how: str, tiles: Iterable[Tile], walk: Walk) -> list[Rail]:
    """The rails in the order of the tiles, which were read `hung_by(how)`."""
    draw: Callable[[Tile], TileCard] = on_rail if how == "cone" else card

    def with_place(tile: Tile) -> TileCard:
        return replace(draw(tile), hangs=walk.words(tile.place_id) if tile.place_id else "")

    if how == "cone":
        return by_cone(tiles, with_place)
    key, name, alone = RAILS[how]
    return [
        Rail(name(shared), None, [with_place(tile) for tile in alike], alone(shared))
        for shared, alike in groupby(tiles, key)
    ]


def _surface(tile: Any) -> str:
    return tile.last_surface or ""


def _surface_name(surface: str) -> str:
    return str(Surface(surface).label) if surface else _("nobody has said what its surface is")


def _month(tile: Any) -> date:
    return tile.day.replace(day=1)


def _days_of(month: date) -> dict[str, str]:
    last = month.replace(day=monthrange(month.year, month.month)[1])
    return {"date_from": month.isoformat(), "date_to": last.isoformat()}


# How it hangs -> what tiles of a rail share, the rail's name, and the question for it alone.
RAILS: dict[str, tuple[Callable[[Any], Any], Callable[[Any], str], Callable[[Any], dict[str, str]]]] = {
    # By the last look, as the caption says; the question asks for any look.
    "surface": (_surface, _surface_name, lambda surface: {"surface": surface} if surface else {}),
    "glaze": (lambda tile: tile.hang_glaze, lambda glaze: glaze or _("no glaze yet"), lambda _glaze: {}),
    "date": (_month, lambda month: date_format(month, "F Y"), _days_of),
}
