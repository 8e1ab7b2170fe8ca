"""Cones in words and numbers by key, within a template."""

from typing import Any

from django import template

from inventory.calc.cones import Cone
from inventory.sentences import cone_range_words
from inventory.sentences import cone_words as in_words
from inventory.walk import Walk
from tiles.kiln_sentences import caution_words
from tiles.models import Kiln

register = template.Library()


@register.filter
def of(by_key: dict[Any, int], key: Any) -> int:
    """The number that is kept for `key`."""
    return by_key.get(key, 0)


@register.filter
def cone_words(cone: Cone | None) -> str:
    """'cone 6 (1222 °C)'; empty when there is none."""
    return in_words(cone) if cone else ""


@register.simple_tag
def cone_range(low: Cone | None, high: Cone | None) -> str:
    return cone_range_words(low, high)


@register.filter
def kiln_cautions(kiln: Kiln) -> list[str]:
    return caution_words(kiln)


@register.filter
def way(place: Any) -> str:
    """The way to a place by its id, from the outside in."""
    return Walk.now().words(place)
