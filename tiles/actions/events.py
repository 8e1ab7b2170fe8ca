"""What happened while the kiln was hot: a vent closed, a look through the spy-hole."""

import uuid
from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import may, require
from tiles.actions.logs import HAS_A_LOG
from tiles.models import Firing, FiringEvent

A_DAY = timedelta(days=1)


@transaction.atomic
def add_event(
    *, by: Person, firing: Firing, words: str, at: datetime | None = None, id: uuid.UUID | None = None
) -> FiringEvent:
    """Note what happened, now or `at` a moment of the firing."""
    require(by, "firing.log")
    at = at or timezone.now()
    if firing.state not in HAS_A_LOG:
        raise Refused(_("%(firing)s is only planned: nothing has happened in it yet.") % {"firing": firing})
    if at < (firing.started_at or firing.created_at) - A_DAY:
        raise Refused({"at": _("That is before this firing began. Give a moment of the firing.")})
    happened("at", at)
    if firing.unloaded_at and at > firing.unloaded_at + A_DAY:
        raise Refused({"at": _("That is after this firing ended. Give a moment of the firing.")})
    event = FiringEvent(firing=firing, at=at, words=words.strip(), by=by, **({"id": id} if id else {}))
    check(event).save(force_insert=True)
    record_change(by=by, verb="noted an event", obj=firing, after={"what": event.words, "at": event.at})
    return event


@transaction.atomic
def take_event_back(*, by: Person, event: FiringEvent) -> FiringEvent:
    """It did not happen, or not so: by who wrote it, or a technician. It stays in the history."""
    require(by, "firing.log" if event.by_id == by.pk else "firing.change")
    event = FiringEvent.objects.select_for_update(no_key=True).get(pk=event.pk)
    if event.taken_back_at is None:
        event.taken_back_at = timezone.now()
        event.save(update_fields=["taken_back_at"])
        record_change(
            by=by, verb="took an event back", obj=event.firing, before={"what": event.words, "at": event.at}
        )
    return event


def may_take_back(person: Person, event: FiringEvent) -> bool:
    return may(person, "firing.log" if event.by_id == person.pk else "firing.change")
