"""A tile and its layers changed in one write, as a program sends them."""

from typing import Any

from django.db import transaction

from studio.models import Person
from tiles.actions.acknowledgements import answer_layers
from tiles.actions.layers import add_layer, set_layers
from tiles.actions.tiles import change_tile
from tiles.models import Layer, Tile


@transaction.atomic
def change_tile_whole(*, by: Person, obj: Tile, values: dict[str, Any], version: int | None = None) -> Tile:
    """`values` as `change_tile` takes them, and `layers` as `set_layers` does; both happen, or neither."""
    values = {**values}
    layers = values.pop("layers", None)
    if values:
        # Its version step holds the row, so what follows needs no version of its own.
        obj, version = change_tile(by=by, obj=obj, values=values, version=version), None
    return obj if layers is None else set_layers(by=by, tile=obj, layers=layers, version=version)


@transaction.atomic
def add_layer_answered(
    *, by: Person, tile: Tile, reason: str, version: int | None = None, **fields: Any
) -> Layer:
    """One more layer, and with `reason` the answer to what is said against it."""
    layer = add_layer(by=by, tile=tile, version=version, **fields)
    if reason.strip():
        answer_layers(by=by, tile=tile, positions=[layer.position], reason=reason)
    return layer
