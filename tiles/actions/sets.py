"""The tiles that a person is glazing all alike. A pointer, not a record: it has no history row."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.errors import Refused
from studio.models import Person
from tiles.actions.many import few_enough
from tiles.actions.tiles import GONE, require_edit
from tiles.calc.ranges import natural
from tiles.models import SetInHand, Tile


@transaction.atomic
def take_set(*, by: Person, tiles: Sequence[Tile]) -> None:
    """From now on a layer of the set's page goes onto all of these. They take the place of another set in hand."""
    few_enough(tiles)
    for tile in tiles:
        require_edit(by, tile)
        if tile.state in GONE:
            words = {"tile": tile, "state": tile.get_state_display()}
            raise Refused({"numbers": _("%(tile)s is %(state)s. Leave it out.") % words})
    held, _new = SetInHand.objects.update_or_create(person=by, defaults={"since": timezone.now()})
    held.tiles.set(tiles)


def lay_set_down(*, by: Person) -> None:
    SetInHand.objects.filter(person=by).delete()


def set_in_hand(person: Person) -> list[Tile]:
    """The tiles of the set as `for_the_wall` reads them, by number; empty when none is in hand."""
    held = Tile.objects.visible_to(person).for_the_wall().filter(pk__in=_held(person).values("tile"))
    return sorted(held, key=by_number)


def count_in_hand(person: Person) -> int:
    return _held(person).count()


def _held(person: Person) -> QuerySet:
    return SetInHand.tiles.through.objects.filter(setinhand__person=person)


def by_number(tile: Tile) -> Any:
    """The key by which tiles stand in the order of their numbers."""
    return natural(tile.number)
