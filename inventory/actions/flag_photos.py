"""Flags with photos of what was seen. A photo that is refused leaves no flag, and a failed flag no file."""

import uuid
from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.actions.flags import raise_flag
from inventory.models import Fill, Flag, FlagPhoto
from studio import photos
from studio.actions import check, record_change, touch
from studio.actions.photos import kept, prepare_photo, stored
from studio.errors import Refused
from studio.models import Person
from studio.roles import require

MOST_AT_ONCE = 6


def add_flag_photo(*, by: Person, flag: Flag, file: Any, id: uuid.UUID | None = None) -> FlagPhoto:
    """Keep a photo of what was seen. `file` is what was sent, or a PreparedPhoto."""
    require(by, "flag.raise")
    prepared = prepare_photo(file)
    if flag.photos.filter(sha256=prepared.sha256).exists():
        raise Refused({"photo": _("This photo is on the flag already.")})
    with kept([prepared]) as (key,), transaction.atomic():
        touch(flag.fill)
        return _add(by, flag, prepared, key, id)


def raise_flag_with_photos(*, by: Person, fill: Fill, files: Iterable[Any] = (), **fields: Any) -> Flag:
    """`raise_flag` with photos, all or nothing. A photo that the joined flag holds already is not kept twice."""
    require(by, "flag.raise")
    sent = list(files)
    if len(sent) > MOST_AT_ONCE:
        raise Refused({"photo": _("Send at most %(most)s photos at once.") % {"most": MOST_AT_ONCE}})
    # By their content: the same photo chosen twice is one.
    prepared = list({photo.sha256: photo for photo in map(prepare_photo, sent)}.values())
    with kept(prepared) as keys, transaction.atomic():
        flag = raise_flag(by=by, fill=fill, **fields)
        there = set(flag.photos.values_list("sha256", flat=True))
        new = [(photo, key) for photo, key in zip(prepared, keys, strict=True) if photo.sha256 not in there]
        for photo, key in new:
            _add(by, flag, photo, key)
    return flag


def _add(
    by: Person, flag: Flag, prepared: photos.PreparedPhoto, key: str, id: uuid.UUID | None = None
) -> FlagPhoto:
    photo = FlagPhoto(
        flag=flag,
        **stored(prepared, key),
        by=by,
        **({"id": id} if id else {}),
    )
    check(photo).save(force_insert=True)
    record_change(
        by=by, verb="added a photo to a flag", obj=flag.fill, after={"kind": flag.kind, "photo": photo.pk}
    )
    return photo
