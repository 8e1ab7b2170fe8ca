"""Writes about firings: plan, load, fire, unload, witness cones; and the cone of every tile in them."""

import uuid
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import change, check, create, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.evidence import refresh_cones
from tiles.actions.loading import findings_for_body
from tiles.models import Firing, Kiln, Layer, Tile
from tiles.sentences import sentence

NEXT = {
    Firing.State.PLANNED: {Firing.State.LOADING, Firing.State.FIRING},
    Firing.State.LOADING: {Firing.State.PLANNED, Firing.State.FIRING},
    Firing.State.FIRING: {Firing.State.COOLING, Firing.State.STOPPED},
    Firing.State.COOLING: {Firing.State.UNLOADED},
    Firing.State.STOPPED: set(),
    Firing.State.UNLOADED: set(),
}


@transaction.atomic
def plan_firing(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Firing:
    """A new firing with the studio's next number; refused where the kiln cannot reach the target."""
    require(by, "firing.change")
    # Who plans at the same moment queues here, so that the next number is read only when the last one is written.
    list(Kiln.objects.select_for_update().order_by("pk").values_list("pk"))
    number = (Firing.objects.aggregate(last=Max("number"))["last"] or 0) + 1
    firing = Firing(**({"id": id} if id else {}), number=number, **fields)
    _kiln_reaches(firing)
    return create(by=by, obj=firing, fields=["number", *fields])


def _kiln_reaches(firing: Firing) -> None:
    if firing.kiln_id is None or firing.target_cone is None:
        return
    if stops := [sentence(f) for f in findings_for_body(firing, None) if f.level == "stop"]:
        raise Refused({"target_cone": stops})


@transaction.atomic
def change_firing(*, by: Person, obj: Firing, values: dict[str, Any], version: int | None = None) -> Firing:
    """Correct a firing; what its tiles saw is worked out anew."""
    require(by, "firing.change")
    before = (obj.kiln_id, obj.kind, obj.target_cone)
    changed = change(by=by, obj=obj, values=values, version=version)
    if changed.takes_tiles and before != (changed.kiln_id, changed.kind, changed.target_cone):
        _kiln_reaches(changed)
        _bodies_fit(changed)
    refresh_cones(changed)
    return changed


def _bodies_fit(firing: Firing) -> None:
    """What went in before its cone was changed is held to the same rule as what goes in now."""
    outside = [
        str(row.tile)
        for row in firing.tile_firings.filter(override_reason="").select_related("tile__body")
        if any(finding.level == "stop" for finding in findings_for_body(firing, row.tile.body))
    ]
    if outside:
        said = _("This does not suit the clay body of %(tiles)s. Take that out first, or choose another.")
        raise Refused({"target_cone": said % {"tiles": ", ".join(outside)}})


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
    if at is not None and at > timezone.now() + timedelta(minutes=5):
        raise Refused({"at": _("This lies in the future. Give the moment at which it happened.")})
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
    before, firing.state, now = firing.state, state, at or timezone.now()
    if state == Firing.State.FIRING:
        firing.started_at = now
        # Also what was put on after the tile was loaded.
        Layer.objects.filter(tile__tile_firings__firing=firing, precedes=None).update(precedes=firing)
    if state in (Firing.State.UNLOADED, Firing.State.STOPPED):
        if firing.started_at and now < firing.started_at:
            raise Refused({"at": _("It cannot have ended before it was started.")})
        firing.unloaded_at = now
    check(firing).save()
    if state == Firing.State.UNLOADED:
        _tiles_are_fired(firing)
    refresh_cones(firing)
    record_change(
        by=by, verb="changed", obj=firing, before={"state": before}, after={"state": state}, reason=reason
    )
    return firing


def _tiles_are_fired(firing: Firing) -> None:
    """A bisque firing leaves bare tiles bisqued, any other leaves its tiles fired; one stopped early does neither."""
    tiles = Tile.objects.filter(tile_firings__firing=firing)
    before, new_state = [Tile.State.BLANK, Tile.State.BISQUED, Tile.State.GLAZED], Tile.State.FIRED
    if firing.kind == Firing.Kind.BISQUE:
        before, new_state = [Tile.State.BLANK], Tile.State.BISQUED
    for tile in tiles.filter(state__in=before):
        touch(tile)
        Tile.objects.filter(pk=tile.pk).update(state=new_state)
