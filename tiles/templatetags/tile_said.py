"""What is said of a tile, within a template that shows the tile."""

from typing import Any

from django import template

from tiles.actions import may_edit
from tiles.models import Tile
from tiles.said import said_of

register = template.Library()


@register.simple_tag
def said_of_tile(tile: Tile, person: Any) -> dict[str, Any]:
    """What is said of it now with the answers, and the answers to what is said no more."""
    said = said_of(tile)
    now = {finding.answer.pk for finding in said if finding.answer}
    kept = [answer for answer in tile.acknowledgements.select_related("by") if answer.pk not in now]
    return {"said": said, "kept": kept, "can_answer": may_edit(person, tile)}
