"""Writes about how a tile came out: looks are added, never overwritten."""

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require
from tiles.actions.tiles import GONE, earned_state, require_edit
from tiles.models import Combination, Firing, Outcome, OutcomeFault, Photo, Tile

SAYS_SOMETHING = ("surface", "opacity", "movement_mm", "colour", "verdict", "damage", "remark")
OUT_OF_THE_KILN = (Firing.State.UNLOADED, Firing.State.STOPPED)


def _can_be_looked_at(tile: Tile) -> None:
    """It came out of a firing that melts glaze, or of one that was to and was stopped early."""
    if tile.state in (Tile.State.FIRED, Tile.State.RECORDED):
        return
    if tile.state in GONE:
        said = _("This tile is written down as %(state)s. If you have it in your hand, change that first.")
        raise Refused(said % {"state": tile.get_state_display()})
    stopped = tile.tile_firings.filter(firing__state=Firing.State.STOPPED)
    if tile.state != Tile.State.GLAZED or not stopped.exclude(firing__kind=Firing.Kind.BISQUE).exists():
        raise Refused(
            _(
                "This tile has not been fired yet. Put it into a firing and unload it, then say how it came out."
            )
        )


def combination_for(tile: Tile, zone: str, combination: Combination | None) -> Combination | None:
    """What was looked at: given, or the only zone that it can be."""
    found = list(tile.zones.select_related("combination"))
    if combination is not None:
        if combination.pk not in {z.combination_id for z in found}:
            raise Refused({"combination": _("No part of this tile has these glazes in this order.")})
        return combination
    fitting = [z for z in found if z.kind == zone] if zone != Outcome.Zone.WHOLE or len(found) == 1 else []
    if zone != Outcome.Zone.WHOLE and not fitting and found:
        raise Refused({"zone": _("This tile has no such part: look at its layers and areas.")})
    return fitting[0].combination if len(fitting) == 1 else None


@transaction.atomic
def record_outcome(
    *,
    by: Person,
    tile: Tile,
    faults: list[dict[str, str]] | None = None,
    id: uuid.UUID | None = None,
    version: int | None = None,
    combination: Combination | None = None,
    **fields: Any,
) -> Outcome:
    """One look at a fired tile. Anybody who sees the tile may add a look; it is theirs by name."""
    require(by, "tile.log")
    touch(tile, version)
    tile.refresh_from_db()
    _can_be_looked_at(tile)
    happened("looked_on", fields.get("looked_on"), _("Give the day on which it was looked at."))
    if not faults and not any(fields.get(f) not in (None, "") for f in SAYS_SOMETHING):
        raise Refused(_("Say at least one thing about it: surface, movement, a fault or a verdict."))
    # Those that were taken back are not among the looks that `check` asks.
    if id is not None and Outcome.with_taken_back.exclude(taken_back_at=None).filter(pk=id).exists():
        raise Refused({"id": _("The look of this id was taken back. To note one anew, give it another id.")})
    outcome = Outcome(tile=tile, by=by, **({"id": id} if id else {}), **fields)
    if outcome.firing_id is None:
        # The newest that it has come out of: it may wait in another one already.
        done = tile.tile_firings.filter(firing__state__in=OUT_OF_THE_KILN)
        last = done.select_related("firing").order_by("-firing__unloaded_at", "-firing__number").first()
        outcome.firing = last.firing if last else None
    elif not tile.tile_firings.filter(firing=outcome.firing_id).exists():
        raise Refused({"firing": _("This tile was not in that firing.")})
    # Read anew: it may have gone a step back since the page was made.
    elif (given := Firing.objects.get(pk=outcome.firing_id)).state not in OUT_OF_THE_KILN:
        said = {"firing": given, "state": given.get_state_display()}
        raise Refused({"firing": _("%(firing)s is %(state)s. Look at the tile when it is unloaded.") % said})
    outcome.combination = combination_for(tile, outcome.zone, combination)
    check(outcome).save(force_insert=True)
    for fault in faults or []:
        check(OutcomeFault(outcome=outcome, kind=fault["kind"], where=fault.get("where", ""))).save()
    if tile.state != Tile.State.RECORDED:
        tile.state = Tile.State.RECORDED
        tile.save(update_fields=["state"])
    said = {f: fields[f] for f in ("zone", *SAYS_SOMETHING) if fields.get(f) not in (None, "")}
    record_change(
        by=by,
        verb="recorded an outcome",
        obj=tile,
        after={**said, "faults": [f["kind"] for f in faults or []]},
    )
    return outcome


def may_take_back(person: Person, outcome: Outcome) -> bool:
    """Who looked, and whoever may change any tile."""
    return may(person, "tile.log") and (outcome.by_id == person.pk or may(person, "tile.change_any"))


@transaction.atomic
def take_look_back(*, by: Person, outcome: Outcome, reason: str, version: int | None = None) -> Outcome:
    """It was a mistake, such as a look at another tile: it counts for nothing any more, and stays to be read."""
    require(by, "tile.log")
    if not may_take_back(by, outcome):
        raise NotAllowed(_("Who looked, or a technician, can take this look back."))
    if not reason.strip():
        raise Refused({"reason": _("Say what was wrong, such as: that was another tile.")})
    tile = touch(outcome.tile, version)
    tile.refresh_from_db()
    outcome = Outcome.with_taken_back.get(pk=outcome.pk)
    if outcome.taken_back_at is not None:
        raise Refused(_("This look was taken back already."))
    outcome.taken_back_at, outcome.taken_back_by = timezone.now(), by
    outcome.taken_back_why = reason.strip()
    check(outcome).save()
    if tile.state == Tile.State.RECORDED:
        tile.state = earned_state(tile) or tile.state
        tile.save(update_fields=["state"])
    faults = OutcomeFault.with_taken_back.filter(outcome=outcome).values_list("kind", flat=True)
    said = {f: getattr(outcome, f) for f in SAYS_SOMETHING if getattr(outcome, f) not in (None, "")}
    before = {"looked_on": outcome.looked_on, **said, "faults": [*faults]}
    record_change(by=by, verb="took back a look", obj=tile, before=before, reason=outcome.taken_back_why)
    return outcome


@transaction.atomic
def archive_photo(*, by: Person, photo: Photo, reason: str = "") -> Photo:
    """Take a photo off the tile's page. Its file and its history stay."""
    require_edit(by, photo.tile)
    touch(photo.tile)
    photo.refresh_from_db()
    if photo.archived_at is None:
        photo.archived_at = timezone.now()
        photo.save(update_fields=["archived_at"])
        record_change(
            by=by, verb="archived a photo", obj=photo.tile, before={"photo": photo.pk}, reason=reason
        )
    return photo
