"""Writes about what is wrong with a fill."""

import uuid
from datetime import datetime

from django.db import transaction
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.ending import end_fill
from inventory.actions.spread import queue_up, spread
from inventory.models import Fill, Flag, FlagNote
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require


@transaction.atomic
def raise_flag(
    *,
    by: Person,
    fill: Fill,
    kind: str,
    note: str = "",
    since: datetime | None = None,
    id: uuid.UUID | None = None,
) -> Flag:
    """Flag a fill, at once in force. A second report of an open kind joins it as a note and returns the first.

    With the `id` of a report that was made already nothing is added: one sent twice counts once.
    """
    require(by, "flag.raise")
    happened("since", since, _("Leave it empty when it is not known."))
    queue_up()
    reported = _reported(fill, id)
    if reported is not None:
        return reported
    touch(fill)  # also the lock under which a second reporter finds the first one's flag
    open_one = open_of_a_kind(fill, kind)
    if open_one is not None:
        if (since is None and open_one.since is not None) or (
            since and open_one.since and since < open_one.since
        ):
            # The wider reach wins: being told 'earlier' or 'not known' must never narrow what is touched.
            before, open_one.since = open_one.since, since
            open_one.save(update_fields=["since"])
            record_change(
                by=by,
                verb="widened a flag",
                obj=fill,
                before={"kind": kind, "since": before},
                after={"since": since},
            )
            spread(open_one, by=by)
        add_note(by=by, flag=open_one, text=note or _("Seen again."), id=id)
        return open_one
    flag = Flag(fill=fill, kind=kind, note=note.strip(), since=since, raised_by=by)
    if id:
        flag.id = id
    if kind == Flag.Kind.OTHER and not flag.note:
        raise Refused({"note": _("Say what is wrong, so that the next person knows.")})
    check(flag).save(force_insert=True)
    record_change(by=by, verb="flagged", obj=fill, after={"kind": kind, "since": since}, reason=flag.note)
    spread(flag, by=by)
    return flag


def open_of_a_kind(fill: Fill, kind: str) -> Flag | None:
    """The open flag that a further report of this kind joins; of 'other' each is its own."""
    if kind == Flag.Kind.OTHER:
        return None
    return Flag.objects.open().filter(fill=fill, kind=kind, origin=None).first()


def _reported(fill: Fill, id: uuid.UUID | None) -> Flag | None:
    """The flag that a report with this id made or joined."""
    if id is None:
        return None
    return Flag.objects.filter(Q(pk=id) | Q(notes=id), fill=fill).first()


@transaction.atomic
def add_note(*, by: Person, flag: Flag, text: str, id: uuid.UUID | None = None) -> FlagNote:
    """A second report of a flag, or a remark on it."""
    require(by, "flag.raise")
    touch(flag.fill)
    note = FlagNote(flag=flag, by=by, text=text.strip(), **({"id": id} if id else {}))
    check(note).save(force_insert=True)
    record_change(by=by, verb="added a note to a flag", obj=flag.fill, after={"kind": flag.kind}, reason=text)
    return note


def may_withdraw(person: Person, flag: Flag) -> bool:
    """Its raiser may, until somebody else has acted on it."""
    return (
        flag.is_open
        and flag.through_id is None  # what a pour brought is nobody's to take back
        and flag.raised_by_id == person.pk
        and may(person, "flag.withdraw_own")
        and not flag.notes.exclude(by=person).exists()
        and not flag.photos.exclude(by=person).exists()
        and not flag.carried.exclude(closed_by=None).exclude(closed_by=person).exists()
    )


@transaction.atomic
def withdraw_flag(*, by: Person, flag: Flag, reason: str = "") -> Flag:
    """Take back one's own flag before anybody acted on it."""
    queue_up()
    _still_open(flag)
    if not may_withdraw(by, flag):
        raise NotAllowed(
            _(
                "Only who raised a flag can withdraw it, and only until somebody else has acted. "
                "A technician can clear it."
            )
        )
    return _close(by=by, flag=flag, outcome=Flag.Outcome.WITHDRAWN, note=reason)


@transaction.atomic
def clear_flag(
    *, by: Person, flag: Flag, outcome: str, note: str = "", put_right_at: datetime | None = None
) -> Flag:
    """Clear with an outcome: *mistaken* lifts what the flag touched; *put right* and *emptied* do not."""
    require(by, "flag.clear")
    queue_up()
    _still_open(flag)
    if flag.origin_id and outcome == Flag.Outcome.MISTAKEN:
        raise Refused(
            {
                "outcome": _(
                    "This came here with a transfer. Clear the flag on bucket %(code)s as mistaken, "
                    "or say how this bucket was put right."
                )
                % {"code": flag.origin.fill.bucket.code}  # type: ignore[union-attr]
            }
        )
    if outcome not in (Flag.Outcome.MISTAKEN, Flag.Outcome.PUT_RIGHT, Flag.Outcome.EMPTIED):
        raise Refused({"outcome": _("Choose mistaken, put right or emptied.")})
    if outcome == Flag.Outcome.MISTAKEN and not note.strip():
        raise Refused(
            {"note": _("Say how you know that it never was so: this lifts every tile that the flag touched.")}
        )
    if outcome == Flag.Outcome.PUT_RIGHT:
        put_right_at = put_right_at or timezone.now()
        happened("put_right_at", put_right_at)
        if flag.since and put_right_at < flag.since:
            raise Refused({"put_right_at": _("It cannot have been put right before it began.")})
    else:
        put_right_at = None
    _close(by=by, flag=flag, outcome=outcome, note=note, put_right_at=put_right_at)
    if outcome == Flag.Outcome.EMPTIED and flag.fill.ended_at is None:
        end_fill(by=by, fill=flag.fill, why=_("emptied: %(flag)s") % {"flag": flag.get_kind_display()})
    return flag


def _still_open(flag: Flag) -> None:
    touch(flag.fill)
    flag.refresh_from_db()  # the fill with it: somebody may have ended it
    if not flag.is_open:
        raise Refused(
            _("This flag was closed meanwhile: %(outcome)s.") % {"outcome": flag.get_outcome_display()}
        )


def _close(*, by: Person, flag: Flag, outcome: str, note: str, put_right_at: datetime | None = None) -> Flag:
    flag.outcome, flag.outcome_note, flag.put_right_at = outcome, note.strip(), put_right_at
    flag.closed_at, flag.closed_by = timezone.now(), by
    check(flag).save()
    record_change(
        by=by,
        verb="cleared a flag",
        obj=flag.fill,
        before={"kind": flag.kind},
        after={"outcome": outcome, "put_right_at": put_right_at},
        reason=note,
    )
    spread(flag.origin or flag, by=by)
    return flag
