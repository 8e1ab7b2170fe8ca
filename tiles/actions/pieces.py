"""Members' own ware in a firing."""

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require
from tiles.actions.evidence import no_such_position
from tiles.actions.stops import stops_for_body
from tiles.models import Firing, Piece


def _still_loading(firing: Firing) -> None:
    if not firing.takes_tiles:
        raise Refused(
            {
                "firing": _("%(firing)s is %(state)s and takes nothing more.")
                % {"firing": firing, "state": firing.get_state_display()}
            }
        )


@transaction.atomic
def load_piece(
    *,
    by: Person,
    firing: Firing,
    override_reason: str = "",
    owner: Person | None = None,
    id: uuid.UUID | None = None,
    version: int | None = None,
    **fields: Any,
) -> Piece:
    """Put pieces into a firing. A body outside the cone stops it; a technician may override with a reason."""
    require(by, "piece.load")
    if owner is not None and owner.pk != by.pk:
        require(by, "firing.change")
    touch(firing, version)
    firing.refresh_from_db()
    _still_loading(firing)
    piece = Piece(firing=firing, owner=owner or by, **({"id": id} if id else {}), **fields)
    if piece.position and piece.position not in firing.kiln.positions:
        raise Refused({"position": no_such_position(firing)})
    if stops := stops_for_body(firing, piece.body):
        piece.override_reason = override_reason.strip()
        if not piece.override_reason:
            raise Refused({"body": list(stops)})
        require(by, "firing.change")
    check(piece).save(force_insert=True)
    record_change(
        by=by,
        verb="loaded pieces",
        obj=firing,
        after={"what": piece.words, "count": piece.count, "position": piece.position},
        reason=piece.override_reason,
    )
    return piece


@transaction.atomic
def take_piece_out(*, by: Person, piece: Piece) -> Piece:
    """Take pieces out again before the kiln is fired: their owner, or a technician."""
    require(by, "piece.load")
    if piece.owner_id != by.pk and not may(by, "firing.change"):
        raise NotAllowed(_("These are somebody else's. Their owner or a technician can take them out."))
    touch(piece.firing)
    piece.refresh_from_db()
    firing = Firing.objects.get(pk=piece.firing_id)
    _still_loading(firing)
    if piece.taken_out_at is None:
        piece.taken_out_at = timezone.now()
        piece.save(update_fields=["taken_out_at"])
        record_change(
            by=by, verb="took out pieces", obj=firing, before={"what": piece.words, "count": piece.count}
        )
    return piece
