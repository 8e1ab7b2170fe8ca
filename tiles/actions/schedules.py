"""Writes about the schedules that the studio keeps, and the plan that a firing takes over from one."""

import uuid
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import change, create, put_away, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.calc.schedule import ScheduleError, segments_of
from tiles.models import Schedule
from tiles.schedule_sentences import refusal_words


def tidy(rows: Any, field: str = "segments") -> list[dict[str, float | None]]:
    """The segments as they are kept; refused with the sentence of what is wrong."""
    try:
        return [segment.as_row() for segment in segments_of(rows)]
    except ScheduleError as error:
        raise Refused({field: refusal_words(error)}) from error


@transaction.atomic
def create_schedule(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Schedule:
    require(by, "schedule.change")
    fields["segments"] = tidy(fields.get("segments", []))
    return create(by=by, obj=Schedule(**({"id": id} if id else {}), **fields), fields=fields)


@transaction.atomic
def change_schedule(
    *, by: Person, obj: Schedule, values: dict[str, Any], version: int | None = None
) -> Schedule:
    """Firings that were planned with it keep what they took over."""
    require(by, "schedule.change")
    if "segments" in values:
        values = {**values, "segments": tidy(values["segments"])}
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def archive_schedule(*, by: Person, obj: Schedule, version: int | None = None, reason: str = "") -> Schedule:
    """Put it away: it leaves the choices, and what was fired by it stays."""
    require(by, "schedule.change")
    touch(obj, version)
    return put_away(by=by, obj=obj, reason=reason)


def plan_of(values: dict[str, Any]) -> dict[str, Any]:
    """What is to be set on a firing: `plan_from` (a schedule) becomes its segments and its name, `plan` is tidied.

    A plan that was written for one firing alone has no name; an empty one takes the plan away.
    """
    values = dict(values)
    schedule = values.pop("plan_from", None)
    if schedule is not None and values.get("plan"):
        raise Refused({"plan": _("Give either a schedule or a plan of its own.")})
    if schedule is not None:
        if schedule.archived_at:
            raise Refused({"plan_from": _("This schedule has been put away. Choose another.")})
        return {**values, "plan": schedule.segments, "plan_name": schedule.name}
    if "plan" in values:
        values["plan"] = tidy(values["plan"], "plan") if values["plan"] else []
        values["plan_name"] = ""
    return values
