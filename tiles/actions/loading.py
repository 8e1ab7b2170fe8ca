"""Putting tiles into a firing, and taking them out again before it is fired."""

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.evidence import no_such_position
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.stops import named, stops_for_body
from tiles.actions.tiles import GONE
from tiles.models import Firing, Layer, Tile, TileFiring


@transaction.atomic
def load_tile(
    *,
    by: Person,
    firing: Firing,
    tile: Tile,
    position: str = "",
    override_reason: str = "",
    version: int | None = None,
) -> TileFiring:
    """Put a tile into a firing; a body or kiln outside the cone stops it, unless a technician says why."""
    require(by, "firing.load")
    touch(firing, version)
    touch(tile)
    firing.refresh_from_db()
    tile.refresh_from_db()
    if not firing.takes_tiles:
        raise Refused(
            {
                "firing": _("%(firing)s is %(state)s and takes no more tiles.")
                % {"firing": firing, "state": firing.get_state_display()}
            }
        )
    if tile.state in GONE:
        raise Refused(
            {"tile": _("This tile is %(state)s. Take another one.") % {"state": tile.get_state_display()}}
        )
    elsewhere = tile.tile_firings.exclude(firing=firing).exclude(firing__state__in=OUT_OF_THE_KILN)
    if other := elsewhere.select_related("firing").first():
        raise Refused(
            {
                "tile": _("This tile is in %(firing)s already. Take it out there first.")
                % {"firing": other.firing}
            }
        )
    if position and position not in firing.kiln.positions:
        raise Refused({"position": no_such_position(firing)})
    # A reason belongs to a stop; who moves a tile within the kiln need not give it again.
    there = firing.tile_firings.filter(tile=tile).first()
    reason, given = "", override_reason.strip()
    if stops := stops_for_body(firing, tile.body):
        reason = given or (there.override_reason if there else "")
        if not reason:
            raise Refused({"tile": list(stops)})
        if given:
            require(by, "firing.change")
    loaded, _new = TileFiring.objects.update_or_create(
        tile=tile, firing=firing, defaults={"position": position, "override_reason": reason}
    )
    # The layers put on since the last firing are the ones that this firing melts.
    Layer.objects.filter(tile=tile, precedes=None).update(precedes=firing)
    after = {"firing": firing, "position": position}
    record_change(by=by, verb="put into a firing", obj=tile, after=after, reason=reason)
    after = {"tile": named(tile), "position": position}
    record_change(by=by, verb="loaded a tile", obj=firing, after=after, reason=reason)
    return loaded


@transaction.atomic
def take_out(*, by: Person, firing: Firing, tile: Tile) -> None:
    """Take a tile out before the kiln is fired."""
    require(by, "firing.load")
    touch(firing)
    firing.refresh_from_db()
    if not firing.takes_tiles:
        raise Refused(
            {"firing": _("%(firing)s has been fired; what was in it stays written.") % {"firing": firing}}
        )
    removed, _rows = TileFiring.objects.filter(firing=firing, tile=tile).delete()
    if not removed:
        raise Refused({"tile": _("This tile is not in %(firing)s.") % {"firing": firing}})
    Layer.objects.filter(tile=tile, precedes=firing).update(precedes=None)
    touch(tile)
    record_change(by=by, verb="took out of a firing", obj=tile, before={"firing": firing})
    record_change(by=by, verb="took out a tile", obj=firing, before={"tile": named(tile)})
