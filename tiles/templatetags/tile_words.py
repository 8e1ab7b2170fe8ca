"""Cones in words, numbers by key and who may, within a template."""

from typing import Any

from django import template

from inventory.calc.cones import Cone
from inventory.sentences import cone_range_words
from inventory.sentences import cone_words as in_words
from inventory.walk import Walk
from studio.models import Person
from tiles.actions.outcomes import may_take_back
from tiles.kiln_sentences import caution_words
from tiles.models import Kiln, Outcome

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
def may_be_taken_back(look: Outcome, person: Person) -> bool:
    return may_take_back(person, look)


@register.filter
def way(place: Any) -> str:
    """The way to a place by its id, from the outside in."""
    return Walk.now().words(place)
