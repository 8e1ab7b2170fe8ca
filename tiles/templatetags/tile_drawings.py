"""`{% tile_card card %}` hangs a tile on a rail; `{% stack layers %}` draws what lies on the clay."""

from collections.abc import Sequence
from typing import Any

from django import template
from django.utils.text import slugify

from tiles import drawings

register = template.Library()


@register.inclusion_tag("tiles/_tile.html")
def tile_card(card: drawings.TileCard, prefix: str = "tile", pick: str | bool = "") -> dict[str, Any]:
    """A tile that hangs twice on one page needs two prefixes. `pick`: it can be ticked, for the form of that id."""
    return {"card": card, "prefix": f"{prefix}-{slugify(card.number)}", "pick": pick}


@register.inclusion_tag("tiles/_stack.html")
def stack(
    layers: Sequence[drawings.StackLayer], body_colour: str | None = None, prefix: str = "stack"
) -> dict[str, Any]:
    """The section through `layers`, the clay first."""
    return {"stack": drawings.stack(layers, body_colour), "prefix": prefix}
