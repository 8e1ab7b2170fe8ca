"""Tiles from the lump of clay on: a run with its bisque firing, and what becomes of a tile before it is glazed."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Change, Person
from studio.roles import require
from tiles.actions.loading import load_tile
from tiles.actions.many import each_of, few_enough
from tiles.actions.numbers import reserve_numbers
from tiles.actions.tiles import GONE, change_tile, possible_states, require_edit
from tiles.models import Firing, Tile, TileFiring

FOUND = "found"
MARKS = (Tile.State.BISQUED, Tile.State.LOST, Tile.State.BROKEN, FOUND)


@transaction.atomic
def make_run(*, by: Person, firing: Firing | None = None, bisqued: bool = False, **fields: Any) -> list[Tile]:
    """A run of numbers (`fields` as `reserve_numbers` takes them) for tiles just made.

    `firing` is the bisque firing that all of them go into, or came out of; without one, `bisqued` says that
    they are bisqued already.
    """
    if firing is not None and firing.kind != Firing.Kind.BISQUE:
        raise Refused({"firing": _("%(firing)s is not a bisque firing.") % {"firing": firing}})
    tiles = reserve_numbers(by=by, **fields)
    if firing is not None and firing.takes_tiles:
        each_of(tiles, lambda tile: load_tile(by=by, firing=firing, tile=tile))
    elif firing is not None:
        each_of(tiles, lambda tile: _came_out_of(by, tile, firing))
    elif bisqued:
        each_of(tiles, lambda tile: _set_state(by, tile, Tile.State.BISQUED))
    return tiles


def _came_out_of(by: Person, tile: Tile, firing: Firing) -> None:
    require(by, "firing.load")
    if firing.state != Firing.State.UNLOADED:
        raise Refused(
            {
                "firing": _(
                    "%(firing)s is %(state)s. Choose one that still takes tiles, or one that is unloaded."
                )
                % {"firing": firing, "state": firing.get_state_display()}
            }
        )
    TileFiring.objects.create(tile=tile, firing=firing)
    tile.state = Tile.State.BISQUED
    tile.save(update_fields=["state"])
    record_change(by=by, verb="came out of a firing", obj=tile, after={"firing": firing})


@transaction.atomic
def mark_tiles(*, by: Person, tiles: Sequence[Tile], mark: str, reason: str = "") -> None:
    """Say of one or several tiles that they are bisqued, lost, broken, or found again: of all or of none."""
    few_enough(tiles)
    if mark not in MARKS:
        raise Refused({"mark": _("Say whether they are bisqued, lost, broken or found again.")})
    each_of(tiles, lambda tile: _mark(by, tile, mark, reason))


def _mark(by: Person, tile: Tile, mark: str, reason: str) -> None:
    require_edit(by, tile)
    touch(tile)
    tile.refresh_from_db()
    if mark == FOUND:
        if tile.state not in GONE:
            raise Refused({"mark": _("It is neither lost nor broken.")})
        mark = _before_it_was_gone(tile)
    if mark not in possible_states(tile):
        raise Refused({"mark": _("There are layers on it, so its layers and firings say what it is.")})
    _set_state(by, tile, mark, reason)


def _before_it_was_gone(tile: Tile) -> str:
    """What layers, firings and looks make of it; for a bare tile, what its history last said."""
    possible = [state for state in possible_states(tile) if state not in GONE]
    if len(possible) == 1:
        return possible[0]
    if tile.tile_firings.filter(
        firing__kind=Firing.Kind.BISQUE, firing__state=Firing.State.UNLOADED
    ).exists():
        return Tile.State.BISQUED
    rows = Change.objects.filter(kind="tiles.tile", object_id=tile.pk, before__state__in=possible)
    row = rows.order_by("-at").first()
    return row.before["state"] if row else Tile.State.BLANK


def _set_state(by: Person, tile: Tile, state: str, reason: str = "") -> None:
    change_tile(by=by, obj=tile, values={"state": state}, reason=reason)
