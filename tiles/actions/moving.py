"""Taking a firing on from state to state: loading, firing, cooling, unloaded, or stopped early."""

import uuid
from datetime import datetime

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.evidence import lock_tiles, refresh_cones
from tiles.actions.melting import melts_now
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.stops import open_stops
from tiles.models import Firing, Tile

NEXT = {
    Firing.State.PLANNED: {Firing.State.LOADING, Firing.State.FIRING},
    Firing.State.LOADING: {Firing.State.PLANNED, Firing.State.FIRING},
    Firing.State.FIRING: {Firing.State.COOLING, Firing.State.STOPPED},
    Firing.State.COOLING: {Firing.State.UNLOADED},
    Firing.State.STOPPED: set(),
    Firing.State.UNLOADED: set(),
}
CAME_OUT = "came out of the kiln"  # the history row of a tile that a firing has changed


@transaction.atomic
def move_firing(
    *,
    by: Person,
    firing: Firing,
    state: str,
    at: datetime | None = None,
    version: int | None = None,
    reason: str = "",
) -> Firing:
    """Take a firing to its next state (`at` if not now): loading, firing, cooling, unloaded, stopped."""
    require(by, "firing.change")
    happened("at", at)
    touch(firing, version)
    firing.refresh_from_db()
    if state not in Firing.State.values:
        raise Refused({"state": _("There is no state %(state)s.") % {"state": state}})
    if state not in NEXT[Firing.State(firing.state)]:
        raise Refused(
            {
                "state": _("%(firing)s is %(now)s; it cannot become %(next)s from there.")
                % {"firing": firing, "now": firing.get_state_display(), "next": Firing.State(state).label}
            }
        )
    lock_tiles(firing)
    before, firing.state, now = firing.state, state, at or timezone.now()
    if state == Firing.State.FIRING:
        _nothing_is_stopped(firing, reason)
        firing.started_at = now
        melts_now(firing)
    if state in OUT_OF_THE_KILN:
        if firing.started_at and now < firing.started_at:
            raise Refused({"at": _("It cannot have ended before it was started.")})
        firing.unloaded_at = now
    check(firing).save()
    if state == Firing.State.UNLOADED:
        _tiles_are_fired(by, firing)
    refresh_cones(firing)
    record_change(
        by=by, verb="changed", obj=firing, before={"state": before}, after={"state": state}, reason=reason
    )
    return firing


def _nothing_is_stopped(firing: Firing, reason: str) -> None:
    """A kiln may be firing already when it is written down, so a reason is enough; without one it stops here."""
    if reason.strip():
        return
    if stopped := open_stops(firing):
        said = [f"{one.what}: {sentence}" for one in stopped for sentence in one.sentences]
        said.append(_("Take it out, or say why it is fired all the same."))
        raise Refused({"reason": said})


def _tiles_are_fired(by: Person, firing: Firing) -> None:
    """A bisque firing leaves bare tiles bisqued, any other leaves its tiles fired; one stopped early does neither."""
    before, new_state = [Tile.State.BLANK, Tile.State.BISQUED, Tile.State.GLAZED], Tile.State.FIRED
    if firing.kind == Firing.Kind.BISQUE:
        before, new_state = [Tile.State.BLANK], Tile.State.BISQUED
    batch = uuid.uuid4()
    for tile in lock_tiles(firing):
        if tile.state not in before:
            continue
        touch(tile)
        Tile.objects.filter(pk=tile.pk).update(state=new_state)
        record_change(
            by=by,
            verb=CAME_OUT,
            obj=tile,
            before={"state": tile.state},
            after={"state": new_state, "firing": firing.number},
            batch=batch,
        )
