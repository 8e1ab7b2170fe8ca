"""Temperatures, moments and names as every page writes them."""

from datetime import date, datetime
from typing import Any

from django import template
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from studio import units
from studio.roles import may

register = template.Library()


@register.filter
def temp(celsius: float | None) -> str:
    """A temperature in the unit that the person chose; empty when it is not known."""
    return units.temperature(celsius)


@register.filter
def when(moment: date | datetime | None) -> str:
    """A moment (or day) in words within a `<time>` that keeps it exact."""
    if moment is None or moment == "":
        return ""
    if isinstance(moment, datetime):
        moment = timezone.localtime(moment)
        day, clock = moment.date(), f" {date_format(moment, 'H:i')}"
    else:
        day, clock = moment, ""
    return format_html(
        '<time datetime="{}">{}</time>', moment.isoformat(), _day_in_words(day, timezone.localdate(), clock)
    )


def _day_in_words(day: date, today: date, clock: str) -> str:
    ago = (today - day).days
    if ago in (-1, 0, 1):
        return {-1: _("tomorrow"), 0: _("today"), 1: _("yesterday")}[ago] + clock
    if 1 < ago < 7:
        return ngettext("%(n)s day ago", "%(n)s days ago", ago) % {"n": ago}
    if -7 < ago < -1:
        return ngettext("in %(n)s day", "in %(n)s days", -ago) % {"n": -ago}
    return date_format(day, "j F Y")


@register.filter
def person_name(person: Any, viewer: Any) -> str:
    """The name of `person` for `viewer`; visitors never see names of people."""
    if person is None or not may(viewer, "people.see"):
        return ""
    return person.name
