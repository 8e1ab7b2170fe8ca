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
from tiles.calc.findings import Finding, firing_findings
from tiles.calc.witness import WitnessReading, tile_cone
from tiles.models import ClayBody, Firing, Kiln, Layer, Tile, TileFiring, WitnessCone
from tiles.sentences import sentence

NEXT = {
    Firing.State.PLANNED: {Firing.State.LOADING, Firing.State.FIRING},
    Firing.State.LOADING: {Firing.State.PLANNED, Firing.State.FIRING},
    Firing.State.FIRING: {Firing.State.COOLING, Firing.State.STOPPED},
    Firing.State.COOLING: {Firing.State.UNLOADED},
    Firing.State.STOPPED: set(),
    Firing.State.UNLOADED: set(),
}
MATURING = (Firing.Kind.GLAZE, Firing.Kind.REFIRE)


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


def findings_for_body(firing: Firing, body: ClayBody | None) -> tuple[Finding, ...]:
    """Body and kiln outside the firing's cone, checked before any glaze."""
    return firing_findings(
        target=firing.target_cone,
        kind=firing.kind,
        kiln_high=firing.kiln.highest_cone,
        body_low=body.cone_low if body else None,
        body_high=body.cone_high if body else None,
        body_bisque=body.bisque_cone if body else None,
    )


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
    if tile.state in (Tile.State.LOST, Tile.State.BROKEN):
        raise Refused(
            {"tile": _("This tile is %(state)s. Take another one.") % {"state": tile.get_state_display()}}
        )
    elsewhere = tile.tile_firings.exclude(firing=firing).filter(
        firing__state__in=["planned", "loading", "firing", "cooling"]
    )
    if other := elsewhere.select_related("firing").first():
        raise Refused(
            {
                "tile": _("This tile is in %(firing)s already. Take it out there first.")
                % {"firing": other.firing}
            }
        )
    if position and position not in firing.kiln.positions:
        raise Refused({"position": _no_such_position(firing)})
    stops = [f for f in findings_for_body(firing, tile.body) if f.level == "stop"]
    if stops:
        if not override_reason.strip():
            raise Refused({"tile": [sentence(f) for f in stops]})
        require(by, "firing.change")
    loaded, _new = TileFiring.objects.update_or_create(
        tile=tile, firing=firing, defaults={"position": position, "override_reason": override_reason.strip()}
    )
    # The layers put on since the last firing are the ones that this firing melts.
    Layer.objects.filter(tile=tile, precedes=None).update(precedes=firing)
    after = {"firing": firing, "position": position}
    record_change(by=by, verb="put into a firing", obj=tile, after=after, reason=override_reason)
    after = {"tile": _named(tile), "position": position}
    record_change(by=by, verb="loaded a tile", obj=firing, after=after, reason=override_reason)
    return loaded


def _named(tile: Tile) -> str:
    """Everybody reads the history of a firing: there a private tile has no number."""
    return _("a private tile") if tile.visibility == Tile.Visibility.MINE else str(tile)


def _no_such_position(firing: Firing) -> str:
    places = ", ".join(firing.kiln.positions)
    return _("This kiln has no such position. It has: %(places)s.") % {"places": places}


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
    record_change(by=by, verb="took out a tile", obj=firing, before={"tile": _named(tile)})


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


@transaction.atomic
def set_witness_cones(
    *, by: Person, firing: Firing, cones: list[dict[str, Any]], version: int | None = None
) -> Firing:
    """The witness cones of a firing, in place of what was written; every tile's cone follows."""
    require(by, "firing.change")
    touch(firing, version)
    firing.refresh_from_db()
    before = [f"{w.position} {w.cone} {w.bend_degrees}" for w in firing.witness_cones.all()]
    firing.witness_cones.all().delete()
    for i, row in enumerate(cones):
        witness = WitnessCone(firing=firing, **row)
        if witness.position and witness.position not in firing.kiln.positions:
            raise Refused({f"witness_cones.{i}.position": _no_such_position(firing)})
        try:
            check(witness).save(force_insert=True)
        except Refused as refused:
            raise Refused(
                {f"witness_cones.{i}.{f}".rstrip("."): s for f, s in refused.problems.items()}
            ) from refused
    refresh_cones(firing)
    after = [f"{w.position} {w.cone} {w.bend_degrees}" for w in firing.witness_cones.all()]
    record_change(
        by=by, verb="read the witness cones", obj=firing, before={"cones": before}, after={"cones": after}
    )
    return firing


def refresh_cones(firing: Firing) -> None:
    """Work out anew what each tile of the firing saw, and each tile's hottest glaze firing."""
    readings = readings_of(firing)
    for row in firing.tile_firings.select_related("tile"):
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
    glazed = tile.tile_firings.filter(firing__kind__in=MATURING)
    best = (
        glazed.filter(cone__isnull=False).order_by("-cone").first() or glazed.exclude(cone_basis="").first()
    )
    return (best.cone, best.cone_basis) if best else (None, "")


def hottest_cone(tile: Tile) -> tuple[Any, str]:
    """Write the tile's cone: the hottest of its glaze firings."""
    cone, basis = best_cone(tile)
    if (tile.cone, tile.cone_basis) != (cone, basis):
        Tile.objects.filter(pk=tile.pk).update(cone=cone, cone_basis=basis)
        touch(tile)
    return cone, basis
