"""Attaching a photo: prepared first, stored under a random key, and forgotten again if the record fails."""

import uuid
from typing import Any

from django.core.files.storage import storages
from django.db import transaction
from django.utils import timezone

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles import photos
from tiles.models import Outcome, Photo, Tile


def add_photo(
    *,
    by: Person,
    tile: Tile,
    file: Any,
    caption: str = "",
    outcome: Outcome | None = None,
    id: uuid.UUID | None = None,
    version: int | None = None,
) -> Photo:
    """Keep a photo of a tile. Anybody who sees the tile may add one; Refused names what is wrong with the file."""
    require(by, "tile.log")
    try:
        prepared = photos.prepare(file, name=getattr(file, "name", ""))
    except photos.PhotoRefused as refused:
        raise Refused({"photo": refused.sentence}) from refused
    storage = storages["photos"]
    key = photos.store(prepared, storage)
    try:
        with transaction.atomic():
            touch(tile, version)
            photo = Photo(
                tile=tile,
                outcome=outcome,
                key=key,
                kind=prepared.kind,
                width=prepared.width,
                height=prepared.height,
                sha256=prepared.sha256,
                taken_at=timezone.make_aware(prepared.taken_at) if prepared.taken_at else None,
                caption=caption.strip(),
                by=by,
                **({"id": id} if id else {}),
            )
            check(photo).save(force_insert=True)
            record_change(
                by=by, verb="added a photo", obj=tile, after={"photo": photo.pk, "caption": photo.caption}
            )
    except BaseException:
        photos.forget(storage, key)
        raise
    return photo
