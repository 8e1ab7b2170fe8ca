"""Durations, rates and predicted cones within a template."""

from django import template
from django.utils.translation import gettext as _

from studio import units
from tiles.calc.heat_work import HeatWork
from tiles.heat_sentences import heat_words
from tiles.schedule_sentences import duration_words

register = template.Library()


@register.filter
def duration(minutes: float) -> str:
    """'8 h 15 min': reckoned, so no finer than a quarter of an hour, or five minutes of a short one."""
    step = 15 if minutes >= 120 else 5
    return duration_words(max(step, round(minutes / step) * step))


@register.filter
def rate(c_per_hour: float | None) -> str:
    """'150 °C/h' in the unit that the person chose."""
    return units.rate(c_per_hour)


@register.filter
def reached(heat: HeatWork | None) -> str:
    """'cone 6, two fifths of the way to 7 (5 to 7)', in the words of a log's cone."""
    return _("no cone: it stays too cool") if heat is None or heat.high is None else heat_words(heat)
