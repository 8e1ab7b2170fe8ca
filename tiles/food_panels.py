"""The food-contact record on the shelf's pages: of a glaze, and of what is in a bucket."""

from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from inventory.models import Fill, Glaze
from studio.roles import may
from tiles.food import FoodRecord, record_of_fill, record_of_glaze
from tiles.forms.pot import FILL, GLAZE


def of_glaze(request: HttpRequest, glaze: Glaze) -> dict[str, Any] | None:
    return _panel(request, record_of_glaze(glaze), f"{GLAZE}{glaze.pk}")


def of_fill(request: HttpRequest, fill: Fill) -> dict[str, Any] | None:
    return _panel(request, record_of_fill(fill), f"{FILL}{fill.pk}")


def pot_address(*layers: str) -> str:
    """The page of a planned pot with these layers, each all over it."""
    return f"{reverse('tiles:pot')}?{urlencode([('layer', layer) for layer in layers])}"


def _panel(request: HttpRequest, food: FoodRecord, layer: str) -> dict[str, Any] | None:
    if not may(request.user, "studio.see"):
        return None
    return {"food": food, "pot_url": pot_address(layer)}
