"""Writes about a tile itself, and which tile somebody has in hand."""

from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import change
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, is_device, may, require
from tiles.models import Firing, Tile, TileInHand

CHANGEABLE = {"body", "form", "made_on", "place", "visibility", "remark", "state"}
BARE = (Tile.State.BLANK, Tile.State.BISQUED)
GONE = (Tile.State.LOST, Tile.State.BROKEN)


def may_edit(person: Person, tile: Tile) -> bool:
    """Members edit their own tiles, technicians any; a device what its owner shares."""
    if may(person, "tile.change_any"):
        return True
    is_own = may(person, "tile.log") and tile.maker_id == person.pk
    return is_own and not (is_device(person) and tile.visibility == Tile.Visibility.MINE)


def not_private_by_device(person: Person, visibility: str) -> None:
    """A device would not see such a tile again."""
    if is_device(person) and visibility == Tile.Visibility.MINE:
        raise Refused(
            {"visibility": _("A device keeps no tile for one person alone. Use a token of your own for it.")}
        )


def made_by_now(made_on: date | None) -> None:
    happened("made_on", made_on, _("Give the day on which it was made, or leave it empty."))


def require_edit(person: Person, tile: Tile) -> None:
    require(person, "tile.log")
    if not may_edit(person, tile):
        raise NotAllowed(_("This is somebody else's tile. Its maker or a technician can change it."))


def earned_state(tile: Tile, *, without: Firing | None = None) -> str | None:
    """What its layers, looks and firings (`without` one) make of a tile; None for a bare one: a person says it."""
    if tile.outcomes.exists():
        return Tile.State.RECORDED
    melted = tile.tile_firings.exclude(firing__kind=Firing.Kind.BISQUE).exclude(firing=without)
    if melted.filter(firing__state=Firing.State.UNLOADED).exists():
        return Tile.State.FIRED
    return Tile.State.GLAZED if tile.layers.exists() else None


def possible_states(tile: Tile) -> list[str]:
    """What a person may say of a tile by hand: lost, broken, found again; blank or bisqued while it is bare."""
    earned = earned_state(tile)
    others = [earned] if earned else [*BARE]
    return list(dict.fromkeys([tile.state, *others, *GONE]))


@transaction.atomic
def change_tile(
    *,
    by: Person,
    obj: Tile,
    values: dict[str, Any],
    version: int | None = None,
    reason: str = "",
) -> Tile:
    """Body, form, date, place, visibility, remark; the state only where no firing or layer decides it."""
    require_edit(by, obj)
    unknown = set(values) - CHANGEABLE
    if unknown:
        raise Refused({f: _("This is not changed on the tile.") for f in sorted(unknown)})
    not_private_by_device(by, values.get("visibility", ""))
    made_by_now(values.get("made_on"))
    state = values.get("state", obj.state)
    if state not in possible_states(obj):
        if state in (Tile.State.BLANK, Tile.State.BISQUED):
            raise Refused({"state": _("This tile has layers on it already.")})
        raise Refused(
            {"state": _("A tile becomes glazed, fired or recorded by its layers, firings and outcomes.")}
        )
    return change(by=by, obj=obj, values=values, version=version, reason=reason)


def take_in_hand(*, by: Person, tile: Tile) -> None:
    """The next scanned bucket offers its coat for this tile. A pointer, not a record: it has no history row."""
    require_edit(by, tile)
    TileInHand.objects.update_or_create(person=by, defaults={"tile": tile, "since": timezone.now()})


def lay_down(*, by: Person) -> None:
    TileInHand.objects.filter(person=by).delete()


def in_hand(person: Person) -> Tile | None:
    held = TileInHand.objects.filter(person=person).select_related("tile__body").first()
    return held.tile if held else None
