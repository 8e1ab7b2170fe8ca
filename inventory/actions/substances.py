"""Writes about what of concern is in a glaze: noted with who read it where, taken back with a reason, never deleted."""

import uuid
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.models import Glaze, GlazeSubstance
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require


@transaction.atomic
def note_substance(
    *,
    by: Person,
    glaze: Glaze,
    substance: str,
    read_in: str,
    percent: Decimal | None = None,
    words: str = "",
    lot: str = "",
    read_on: date | None = None,
    id: uuid.UUID | None = None,
) -> GlazeSubstance:
    """Note that something of concern is in a glaze. Sent twice under one `id` it counts once."""
    require(by, "substance.note")
    touch(glaze)
    if id and (noted := GlazeSubstance.objects.filter(pk=id, glaze=glaze).first()):
        return noted
    if percent is not None and percent <= 0:
        raise Refused(
            {"percent": _("What is not in it is not noted. Leave this empty where nobody knows how much.")}
        )
    happened("read_on", read_on, _("Give the day on which it was read."))
    row = GlazeSubstance(
        glaze=glaze,
        substance=substance,
        percent=percent,
        read_in=read_in,
        words=words.strip(),
        lot=lot.strip(),
        read_on=read_on or timezone.localdate(),
        by=by,
        **({"id": id} if id else {}),
    )
    check(row).save(force_insert=True)
    record_change(by=by, verb="noted what is in it", obj=glaze, after=_told(row))
    return row


def may_take_back(person: Person, row: GlazeSubstance) -> bool:
    """Who noted it may, and whoever may change glazes."""
    if row.taken_back_at is not None or not may(person, "substance.note"):
        return False
    return row.by_id == person.pk or may(person, "glaze.change")


@transaction.atomic
def take_back_substance(*, by: Person, row: GlazeSubstance, reason: str) -> GlazeSubstance:
    """It was misread: it counts no longer, and the history says why."""
    require(by, "substance.note")
    touch(row.glaze)
    row.refresh_from_db()
    if row.taken_back_at is not None:
        raise Refused(_("This was taken back already."))
    if not may_take_back(by, row):
        raise NotAllowed(_("Only who noted it takes it back, or a technician. Ask one of them."))
    if not reason.strip():
        raise Refused(
            {"reason": _("Say how you know that it is not so: what is kept away from food rests on it.")}
        )
    row.taken_back_at = timezone.now()
    check(row).save(update_fields=["taken_back_at"])
    record_change(
        by=by, verb="took back what is in it", obj=row.glaze, before=_told(row), reason=reason.strip()
    )
    return row


def _told(row: GlazeSubstance) -> dict[str, object]:
    """For the history: in words, as the names of the choices may change."""
    return {
        "substance": str(row.get_substance_display()),
        "percent": row.percent,
        "read": str(row.get_read_in_display()),
        "words": row.words,
        "lot": row.lot,
    }
