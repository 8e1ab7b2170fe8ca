"""Attaching a photo: prepared first, stored under a random key, and forgotten again if the record fails."""

import uuid
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio import photos
from studio.actions import check, record_change, touch
from studio.actions.photos import kept, prepare_photo, stored
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, is_device, may, require
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.tiles import may_edit
from tiles.models import Outcome, Photo, Tile

OLDEST_YEAR = 1990  # no digital camera is older


def add_photo(
    *,
    by: Person,
    tile: Tile,
    file: Any,
    caption: str = "",
    stage: str = "",
    outcome: Outcome | None = None,
    id: uuid.UUID | None = None,
    version: int | None = None,
) -> Photo:
    """Keep a photo of a tile. Anybody who sees the tile may add one; what it shows follows from the tile unless said.

    `file` is what was sent, or a PreparedPhoto where the caller has a transaction of its own.
    """
    require(by, "tile.log")
    if outcome is not None and outcome.tile_id != tile.pk:
        raise Refused({"outcome": _("This look was at another tile.")})
    prepared = prepare_photo(file)
    if tile.photos.filter(sha256=prepared.sha256, archived_at=None).exists():
        raise Refused({"photo": _("This photo is on the tile already.")})
    with kept([prepared]) as (key,), transaction.atomic():
        touch(tile, version)
        photo = Photo(
            tile=tile,
            outcome=outcome,
            **stored(prepared, key),
            taken_at=taken(prepared),
            caption=caption.strip(),
            stage=stage or stage_now(tile),
            by=by,
            **({"id": id} if id else {}),
        )
        check(photo).save(force_insert=True)
        record_change(
            by=by, verb="added a photo", obj=tile, after={"photo": photo.pk, "caption": photo.caption}
        )
    return photo


def stage_now(tile: Tile) -> str:
    """What a photo of the tile shows if nothing else is said: bare, glazed, fired, or later, once it was looked at."""
    if tile.tile_firings.filter(firing__state__in=OUT_OF_THE_KILN).exclude(firing__kind="bisque").exists():
        today = timezone.localdate()
        looked_at_before = tile.outcomes.filter(looked_on__lt=today).exists()
        return Photo.Stage.LATER if looked_at_before else Photo.Stage.FIRED
    return Photo.Stage.GLAZED if tile.layers.exists() else Photo.Stage.BARE


def may_have_original(person: Person, photo: Photo) -> bool:
    """The file as it was sent may say where it was taken: for who may change the tile, and for who sent it."""
    sent_it = photo.by_id == person.pk and not is_device(person)
    return may_edit(person, photo.tile) or (sent_it and may(person, "tile.log"))


def require_original(person: Person, photo: Photo) -> None:
    if not may_have_original(person, photo):
        raise NotAllowed(
            _(
                "The file as it was sent is for who sent it, the tile's maker and technicians. Ask one of them."
            )
        )


def taken(prepared: photos.PreparedPhoto) -> datetime | None:
    """The camera's clock, taken to run in the studio's time; a clock that was never set says nothing."""
    taken = prepared.taken_at
    return timezone.make_aware(taken) if taken and taken.year >= OLDEST_YEAR else None
