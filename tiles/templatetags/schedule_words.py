"""Durations, rates and predicted cones within a template."""

from django import template

from studio import units
from tiles.calc.heat_work import HeatWork
from tiles.curve_words import reached_words
from tiles.schedule_sentences import duration_words

register = template.Library()


@register.filter
def duration(minutes: float) -> str:
    """'8 h 20 min'."""
    return duration_words(minutes)


@register.filter
def rate(c_per_hour: float | None) -> str:
    """'150 °C/h' in the unit that the person chose."""
    return units.rate(c_per_hour)


@register.filter
def reached(heat: HeatWork | None) -> str:
    """'about cone 6 (5 to 7)'."""
    return reached_words(heat)
