"""What the firing's page says of its log and of what happened meanwhile."""

from typing import Any

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from studio import units
from studio.roles import may
from tiles.actions.events import may_take_back
from tiles.actions.log_drafts import draft_of
from tiles.actions.logs import HAS_A_LOG
from tiles.forms.logs import EventForm
from tiles.heat_sentences import reached_words
from tiles.log_findings import log_findings
from tiles.log_sentences import marks_in_words, moment_words
from tiles.logs import log_of
from tiles.models import Firing, FiringLog


def log_context(request: Any, firing: Firing, *, event_form: Any = None) -> dict[str, Any]:
    """The firing's log, its events, and what was taken back; nothing while it is only planned."""
    if firing.state not in HAS_A_LOG:
        return {}
    log = log_of(firing)
    person = request.user
    events = firing.events.filter(taken_back_at=None).select_related("by")
    logs = may(person, "firing.log")
    return {
        "log": log,
        "log_facts": log_facts(log) if log else [],
        "log_marks": marks_in_words(log.marks, log.begins_at or firing.started_at) if log else [],
        "log_findings": log_findings(firing) if log else [],
        "log_draft": draft_of(person, firing) if logs and log is None else None,
        "logs_taken_back": firing.logs_taken_back.select_related("by").defer("readings"),
        "events": [(event, may_take_back(person, event)) for event in events],
        "event_form": event_form or (EventForm(prefix="event") if logs else None),
    }


def log_facts(log: FiringLog) -> list[tuple[Any, ...]]:
    """What a log holds, name and value."""
    known = log.peak_c is not None
    return [
        (_("Readings"), log.count),
        (_("From"), date_format(timezone.localtime(log.begins_at), "j F Y, H:i") if log.begins_at else None),
        (_("It runs for"), _hours(log.last_s)),
        (_("Hottest"), _hottest(log) if known else None),
        (
            _("Last %(span)s climbed at") % {"span": units.difference(100)},
            units.rate(log.rate_c_per_h) if log.rate_c_per_h is not None else None,
        ),
        (_("Cone by the log"), _cone(log) if log.computed_with and known else None),
    ]


def _cone(log: FiringLog) -> str:
    return reached_words(log.cone, log.cone_fraction, log.cone_low, log.cone_high)


def _hours(seconds: int) -> str:
    return _("%(hours)s h %(minutes)s min") % {"hours": seconds // 3600, "minutes": seconds % 3600 // 60}


def _hottest(log: FiringLog) -> str:
    said = units.temperature(log.peak_c)
    at = moment_words(log.peak_s or 0, log.begins_at)
    return _("%(heat)s, %(moment)s") % {"heat": said, "moment": at}
