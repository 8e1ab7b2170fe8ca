"""The cone that each tile saw, by the evidence that its firing has: witness cones, the log, the target."""

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.witness import WitnessReading, tile_cone
from tiles.models import Firing, Tile, TileFiring, WitnessCone


def no_such_position(firing: Firing) -> str:
    places = ", ".join(firing.kiln.positions)
    return _("This kiln has no such position. It has: %(places)s.") % {"places": places}


@transaction.atomic
def set_witness_cones(
    *, by: Person, firing: Firing, cones: list[dict[str, Any]], version: int | None = None
) -> Firing:
    """The witness cones of a firing, in place of what was written; every tile's cone follows."""
    require(by, "firing.change")
    touch(firing, version)
    firing.refresh_from_db()
    before = _cones_in_words(firing)
    firing.witness_cones.all().delete()
    for i, row in enumerate(cones):
        witness = WitnessCone(firing=firing, **row)
        if witness.position and witness.position not in firing.kiln.positions:
            raise Refused({f"witness_cones.{i}.position": no_such_position(firing)})
        try:
            check(witness).save(force_insert=True)
        except Refused as refused:
            raise Refused(
                {f"witness_cones.{i}.{f}".rstrip("."): s for f, s in refused.problems.items()}
            ) from refused
    refresh_cones(firing)
    after = _cones_in_words(firing)
    if before != after:
        record_change(
            by=by, verb="read the witness cones", obj=firing, before={"cones": before}, after={"cones": after}
        )
    return firing


def _cones_in_words(firing: Firing) -> list[str]:
    rows = firing.witness_cones.order_by("position", "cone", "cone_type")
    return [f"{w.position} {w.cone} {w.cone_type} {w.bend_degrees}" for w in rows]


def lock_tiles(firing: Firing) -> list[Tile]:
    """The tiles of a firing, locked in the one order that everybody keeps: the firing first, then tiles by key.

    Call it after `touch(firing)`; nobody who holds a tile may then wait for a firing.
    """
    inside = TileFiring.objects.filter(firing=firing).values("tile")
    return [*Tile.objects.select_for_update(no_key=True).filter(pk__in=inside).order_by("pk")]


def refresh_cones(firing: Firing) -> None:
    """Work out anew what each tile of the firing saw, and each tile's hottest glaze firing."""
    if not lock_tiles(firing):
        return
    readings = readings_of(firing)
    for row in firing.tile_firings.select_related("tile").order_by("tile_id"):
        row.cone, row.cone_basis, row.cone_below = cone_seen(firing, row.position, readings)
        row.save(update_fields=["cone", "cone_basis", "cone_below"])
        hottest_cone(row.tile)


def readings_of(firing: Firing) -> list[WitnessReading]:
    return [WitnessReading(w.position, w.cone, w.bend_degrees) for w in firing.witness_cones.all()]


def cone_seen(firing: Firing, position: str, readings: list[WitnessReading]) -> tuple[Any, str, Any]:
    """Cone, basis and cone below of a tile at `position`, by the evidence that the firing has now."""
    if not (firing.has_fired or firing.state == Firing.State.STOPPED):
        return None, "", None
    seen = tile_cone(
        position,
        readings,
        firing.log_cone,
        firing.target_cone,
        fired=firing.has_fired,
        stopped_early=firing.state == Firing.State.STOPPED,
    )
    return seen.cone, seen.basis, seen.below


def best_cone(tile: Tile) -> tuple[Any, str]:
    """Cone and basis of the hottest of the tile's glaze firings."""
    glazed = tile.tile_firings.filter(firing__kind__in=GLAZE_FIRINGS)
    best = (
        glazed.filter(cone__isnull=False).order_by("-cone").first() or glazed.exclude(cone_basis="").first()
    )
    return (best.cone, best.cone_basis) if best else (None, "")


def hottest_cone(tile: Tile) -> None:
    """Write the tile's cone: the hottest of its glaze firings."""
    cone, basis = best_cone(tile)
    if (tile.cone, tile.cone_basis) != (cone, basis):
        Tile.objects.filter(pk=tile.pk).update(cone=cone, cone_basis=basis)
        touch(tile)
