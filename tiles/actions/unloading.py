"""Looks at the tiles of one firing, one after another: what is tapped is kept at once, and nobody's look is lost."""

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.outcomes import record_outcome
from tiles.models import Firing, LookDraft, Outcome, OutcomeFault, Photo, Tile

FIRING, PHOTO = "firing", "photo"  # what a draft keeps beside the answers of its form
MOST_KEPT = 120  # values; a form has far fewer, and a draft is not a store


class SomebodyLooked(Refused):
    """Somebody else kept a look at the same tile in the meantime. Nothing is written; `look` is theirs."""

    def __init__(self, look: Outcome) -> None:
        super().__init__(_("%(who)s has just looked at this tile.") % {"who": look.by})
        self.look = look


def keep_draft(*, by: Person, firing: Firing, tile: Tile, data: dict[str, list[str]]) -> LookDraft | None:
    """What a person has tapped so far, as the form sends it. A pointer, not a record: it has no history row.

    A tap that arrives after its look was kept says nothing new, and leaves no draft.
    """
    require(by, "tile.log")
    kept = {name: [str(v)[:2000] for v in values] for name, values in list(data.items())[:MOST_KEPT]}
    kept[FIRING] = [str(firing.pk)]
    with transaction.atomic():
        # Waits for a look that is just being kept.
        Tile.objects.select_for_update().get(pk=tile.pk)
        if _is_kept(tile, data.get("look", [""])[-1]):
            return None
        draft, _new = LookDraft.objects.select_for_update().get_or_create(person=by, tile=tile)
        if draft.data.get(FIRING) == kept[FIRING] and PHOTO in draft.data:
            kept[PHOTO] = draft.data[PHOTO]
        draft.data, draft.touched_at = kept, timezone.now()
        draft.save()
    return draft


def _is_kept(tile: Tile, look: str) -> bool:
    try:
        return Outcome.with_taken_back.filter(pk=uuid.UUID(look), tile=tile).exists()
    except ValueError:
        return False


@transaction.atomic
def keep_photo_for_look(*, by: Person, firing: Firing, photo: Photo) -> None:
    """A photo that was taken while a tile is looked at belongs to the look that is kept next."""
    draft, _new = LookDraft.objects.select_for_update().get_or_create(person=by, tile=photo.tile)
    if draft.data.get(FIRING) != [str(firing.pk)]:
        draft.data = {FIRING: [str(firing.pk)]}
    draft.data[PHOTO] = [*draft.data.get(PHOTO, []), str(photo.pk)]
    draft.touched_at = timezone.now()
    draft.save()


def draft_of(person: Person, firing: Firing, tile: Tile) -> dict[str, list[str]]:
    """What the person has tapped of this tile after this firing; empty if nothing."""
    draft = LookDraft.objects.filter(person=person, tile=tile).first()
    return draft.data if draft and draft.data.get(FIRING) == [str(firing.pk)] else {}


def drop_draft(*, by: Person, tile: Tile) -> None:
    """Forget what was tapped; photos that were taken stay on the tile."""
    LookDraft.objects.filter(person=by, tile=tile).delete()


def newest_look(firing: Firing, tile: Tile, besides: Person) -> Outcome | None:
    """The newest look of anybody else at this tile after this firing."""
    looks = Outcome.objects.filter(firing=firing, tile=tile).exclude(by=besides).select_related("by")
    return looks.order_by("-created_at", "-id").first()


@transaction.atomic
def keep_look(
    *,
    by: Person,
    firing: Firing,
    tile: Tile,
    knows: str = "",
    id: uuid.UUID | None = None,
    **fields: Any,
) -> Outcome:
    """Record a look at a tile that came out of `firing`, with the photos taken for it; its draft goes.

    `knows` is the newest look of somebody else that the person has seen: a newer one raises SomebodyLooked, so
    that each decides knowingly whether there are to be two. Sent twice with one `id`, it is kept once; what says
    something else under it is a look of its own.
    """
    require(by, "tile.log")
    touch(tile)
    mine = Outcome.with_taken_back.filter(by=by, tile=tile)
    if id is not None and (again := mine.filter(pk=id).first()):
        if _says(again, fields):
            return again
        # Somebody went back in the browser and says something else under the id of the look that is kept.
        id = uuid.uuid5(id, repr(sorted(fields.items())))
        if again := mine.filter(pk=id).first():
            return again
    theirs = newest_look(firing, tile, by)
    if theirs is not None and str(theirs.pk) != knows:
        raise SomebodyLooked(theirs)
    outcome = record_outcome(by=by, tile=tile, firing=firing, id=id, **fields)
    taken = draft_of(by, firing, tile).get(PHOTO, [])
    Photo.objects.filter(pk__in=taken, tile=tile, by=by, outcome=None).update(outcome=outcome)
    drop_draft(by=by, tile=tile)
    return outcome


def _says(look: Outcome, fields: dict[str, Any]) -> bool:
    """Whether a look says what was sent. A part is told by its glazes where these were sent."""
    told = {f: v for f, v in fields.items() if f not in ("faults", "combination")}
    faults = {(fault["kind"], fault.get("where", "")) for fault in fields.get("faults") or []}
    noted = OutcomeFault.with_taken_back.filter(outcome=look).values_list("kind", "where")
    return (
        all(getattr(look, field) == value for field, value in told.items())
        and fields.get("combination") in (None, look.combination)
        and faults == {*noted}
    )
