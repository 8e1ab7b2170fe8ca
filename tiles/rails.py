"""Tiles as they hang: rails with a name, each with its cards."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, field, replace

from django.utils.translation import gettext as _

from inventory.calc.cones import Cone, celsius_at_60
from studio.units import temperature
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.models import Tile

FIRED = (Tile.State.FIRED, Tile.State.RECORDED)


@dataclass(frozen=True, slots=True)
class Rail:
    """A rail: what it says, the cone that it stands for (None: none), and what hangs on it."""

    name: str
    cone: Cone | None
    cards: list[TileCard]
    # What the wall is asked for this rail alone; empty where no question means just that.
    alone: dict[str, str] = field(default_factory=dict)


def cone_name(cone: Cone) -> str:
    """'cone 6 · about 1222 °C', in the units of the person who looks."""
    degrees = celsius_at_60(cone)
    if degrees is None:
        return _("cone %(cone)s") % {"cone": cone.label}
    return _("cone %(cone)s · about %(degrees)s") % {"cone": cone.label, "degrees": temperature(degrees)}


def by_cone(tiles: Iterable[Tile], hang: Callable[[Tile], TileCard] | None = None) -> list[Rail]:
    """A rail for each cone in the order of the tiles; what has no cone hangs last, fired before unfired."""
    named = {True: _("fired, cone not known"), False: _("not fired yet")}

    def name(tile: Tile) -> str:
        return cone_name(tile.cone) if tile.cone else named[tile.state in FIRED]

    rails = [
        replace(rail, alone={"cone_min": rail.cone.code, "cone_max": rail.cone.code}) if rail.cone else rail
        for rail in rails_of(tiles, name, hang)
    ]
    return sorted(rails, key=lambda rail: list(named.values()).index(rail.name) + 1 if not rail.cone else 0)


def by_body_and_cone(tiles: Iterable[Tile], hang: Callable[[Tile], TileCard] | None = None) -> list[Rail]:
    """A rail for each clay body and cone, by the name of the body, each body's hottest first."""

    def key(tile: Tile) -> tuple[str, int]:
        return (tile.body.name if tile.body else "", -(tile.cone.rank if tile.cone else -99))

    return rails_of(sorted(tiles, key=key), body_and_cone, hang)


def body_and_cone(tile: Tile) -> str:
    body = tile.body.name if tile.body else _("clay body not known")
    cone = cone_name(tile.cone) if tile.cone else _("cone not known")
    return _("%(body)s, %(cone)s") % {"body": body, "cone": cone}


def rails_of(
    tiles: Iterable[Tile], name: Callable[[Tile], str], hang: Callable[[Tile], TileCard] | None = None
) -> list[Rail]:
    """Rails by name, in the order in which the names come. `hang` draws a tile, else `on_rail`."""
    rails: dict[Hashable, Rail] = {}
    for tile in tiles:
        rail = rails.setdefault(name(tile), Rail(name(tile), tile.cone, []))
        rail.cards.append((hang or on_rail)(tile))
    return list(rails.values())


def on_rail(tile: Tile) -> TileCard:
    """A card whose cone is said by its rail: its facts are how it came out and what it is made of."""
    hung = card(tile)
    surface = next((str(o.get_surface_display()) for o in tile.outcomes.all() if o.surface), "")
    weak = _("cone planned only") if tile.cone_basis == "planned" else ""
    state = "" if surface else str(tile.get_state_display())
    said = [fact for fact in (weak, surface, state, tile.body.name if tile.body else "") if fact]
    return replace(hung, facts=tuple(said[:2]))
