"""Setting tiles aside because of a flag: all that it touches in one step, and back again in one."""

import uuid
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.spread import LIFTED
from inventory.models import Flag
from studio.actions import record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.models import FlagMark, Tile
from tiles.touching import still_to_mark, tiles_of, touched_layers


@transaction.atomic
def mark_touched(*, by: Person, flag: Flag, since: datetime | None = None) -> list[FlagMark]:
    """Mark every tile that used the flagged bucket since the flag's own moment, or since another one.

    What is marked for this flag already stays as it is; the new marks share one batch.
    """
    require(by, "mark.set")
    touch(flag.fill)  # whoever marks for the same flag meanwhile waits here
    flag.refresh_from_db(fields=["outcome"])
    if flag.outcome in LIFTED:
        raise Refused(_("This flag was lifted: it never was so. There is nothing to mark for it."))
    happened("since", since, _("Give the day from which on it was so."))
    touched = tiles_of(touched_layers(flag, since)).visible_to(by)
    tiles = sorted(still_to_mark(flag, touched).order_by(), key=lambda tile: tile.pk.hex)
    if not tiles:
        raise Refused(
            _("There is no tile to mark: none was glazed out of it in that time, or all are marked.")
        )
    batch = uuid.uuid4()
    marks = [FlagMark(flag=flag, tile=tile, batch=batch, by=by) for tile in tiles]
    FlagMark.objects.bulk_create(marks)
    for tile in tiles:
        touch(tile)
        record_change(by=by, verb="marked for a flag", obj=tile, after={"flag": flag}, batch=batch)
    said = {"flag": flag.get_kind_display(), "since": since or flag.since, "tiles": _numbers(marks)}
    record_change(by=by, verb="marked the tiles of a flag", obj=flag.fill, after=said, batch=batch)
    return marks


@transaction.atomic
def undo_marks(*, by: Person, flag: Flag, batch: uuid.UUID, reason: str = "") -> list[FlagMark]:
    """Take back what is left of one marking. The marks stay written down as undone."""
    require(by, "mark.set")
    touch(flag.fill)
    rows = FlagMark.objects.filter(flag=flag, batch=batch, undone_at=None).select_related("tile")
    marks = sorted(rows, key=lambda mark: mark.tile.pk.hex)
    if not marks:
        raise Refused(_("These marks were taken back already."))
    FlagMark.objects.filter(pk__in=[mark.pk for mark in marks]).update(undone_at=timezone.now())
    back = uuid.uuid4()
    for mark in marks:
        touch(mark.tile)
        record_change(
            by=by, verb="took a mark back", obj=mark.tile, before={"flag": flag}, reason=reason, batch=back
        )
    said = {"flag": flag.get_kind_display(), "tiles": _numbers(marks)}
    record_change(
        by=by, verb="took the marks of a flag back", obj=flag.fill, before=said, reason=reason, batch=back
    )
    return marks


def _numbers(marks: list[FlagMark]) -> list[Any]:
    """For the bucket's history, which everybody reads: a private tile tells of it in its own alone."""
    return sorted(mark.tile.number for mark in marks if mark.tile.visibility != Tile.Visibility.MINE)
