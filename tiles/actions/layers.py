"""Writes about layers, and the zones and combinations derived from them."""

import uuid
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _

from inventory.models import Fill, Glaze
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from tiles.actions.melting import firing_that_melted, melted_by
from tiles.actions.tiles import GONE, require_edit
from tiles.calc.zones import LayerArea, combination_key, zones
from tiles.models import Combination, CombinationPart, Firing, Layer, Tile, TileZone

MOST_LAYERS = 12
HISTORY_FIELDS = (
    "position",
    "glaze",
    "fill",
    "method",
    "coats",
    "area",
    "ground",
    "ground_state",
    "is_even",
    "stirred_in",
    "applied_at",
)


def combination_of(glazes: list[Glaze]) -> Combination:
    """The combination of glazes in this order from the clay outwards, made when it is new."""
    key = combination_key([g.pk.hex for g in glazes])
    found, is_new = Combination.objects.get_or_create(key=key)
    if is_new:
        CombinationPart.objects.bulk_create(
            CombinationPart(combination=found, position=i, glaze=g) for i, g in enumerate(glazes, start=1)
        )
    return found


def derive_zones(tile: Tile) -> None:
    """Write the tile's zones anew from its layers. Combinations stay: outcomes and remarks point at them."""
    layers = list(tile.layers.select_related("glaze").order_by("position"))
    by_key = {layer.glaze_id.hex: layer.glaze for layer in layers}
    areas = [LayerArea(la.glaze_id.hex, la.area, la.glaze.kind == Glaze.Kind.WAX) for la in layers]
    TileZone.objects.filter(tile=tile).delete()
    for zone in zones(areas):
        TileZone.objects.create(
            tile=tile,
            kind=zone.kind,
            combination=combination_of([by_key[key] for key in zone.glazes]),
            regions=list(zone.regions),
            layer_positions=list(zone.layer_positions),
        )


def _fit(layer: Layer) -> None:
    """A layer's fill and glaze agree; its fill's standing is kept as it is now."""
    if layer.fill_id is None:
        layer.sg_then, layer.use_then, layer.food_then, layer.reasons_then = None, "", "", []
        return
    fill: Any = Fill.objects.select_related("glaze", "bucket").with_standing().get(pk=layer.fill_id)
    if layer.glaze_id != fill.glaze_id:
        raise Refused(
            {
                "fill": _("This bucket holds %(glaze)s. Choose the bucket or the glaze again.")
                % {"glaze": fill.glaze}
            }
        )
    _was_in_the_bucket(layer)
    standing = fill.standing
    layer.sg_then, layer.use_then, layer.food_then = fill.sg, standing.use, standing.food
    layer.reasons_then = [*standing.use_reasons, *standing.food_reasons]


def _was_in_the_bucket(layer: Layer) -> None:
    if not (layer.fill and layer.applied_at):
        return
    if layer.fill.ended_at and layer.applied_at > layer.fill.ended_at:
        raise Refused(
            {
                "applied_at": _(
                    "This fill had left the bucket by that time. Say when it was put on, or choose another bucket."
                )
            }
        )
    if layer.applied_at < layer.fill.started_at:
        raise Refused(
            {
                "applied_at": _(
                    "This fill was not in the bucket yet at that time. Choose the glaze without the bucket."
                )
            }
        )


def _build(tile: Tile, by: Person, position: int, fields: dict[str, Any]) -> Layer:
    fields = {**fields}
    fill = fields.get("fill")
    if fill is not None and not fields.get("glaze"):
        fields["glaze"] = fill.glaze
    if not fields.get("glaze"):
        raise Refused({"glaze": _("Say which glaze, or which bucket it came out of.")})
    layer = Layer(tile=tile, by=by, position=position, **fields)
    happened("applied_at", layer.applied_at, _("Give the moment at which it was put on."))
    _fit(layer)
    # Logged late: the firing that it went through is over, and the next one must not claim it.
    layer.precedes = firing_that_melted(tile, layer.applied_at)
    return check(layer)


def _glazeable(tile: Tile) -> None:
    if tile.state in GONE:
        raise Refused(_("This tile is %(state)s. Take another one.") % {"state": tile.get_state_display()})


def _after_layers(tile: Tile) -> None:
    derive_zones(tile)
    if tile.layers.exists() and tile.state in (Tile.State.BLANK, Tile.State.BISQUED):
        tile.state = Tile.State.GLAZED
        tile.save(update_fields=["state"])
    elif not tile.layers.exists() and tile.state == Tile.State.GLAZED:
        tile.state = Tile.State.BISQUED
        tile.save(update_fields=["state"])


@transaction.atomic
def add_layer(*, by: Person, tile: Tile, version: int | None = None, **fields: Any) -> Layer:
    """Put one more layer on top. A glaze is given, or a fill whose glaze it is."""
    require_edit(by, tile)
    touch(tile, version)
    tile.refresh_from_db()
    _glazeable(tile)
    last = tile.layers.order_by("-position").values_list("position", flat=True).first() or 0
    if last >= MOST_LAYERS:
        raise Refused(_("A tile takes up to %(most)s layers.") % {"most": MOST_LAYERS})
    layer = _build(tile, by, last + 1, fields)
    layer.save(force_insert=True)
    _after_layers(tile)
    record_change(by=by, verb="added a layer", obj=tile, after={f: getattr(layer, f) for f in HISTORY_FIELDS})
    return layer


@transaction.atomic
def change_layer(*, by: Person, layer: Layer, values: dict[str, Any], version: int | None = None) -> Layer:
    """Correct a layer. The standing that is kept with it follows its bucket."""
    tile = layer.tile
    require_edit(by, tile)
    touch(tile, version)
    layer.refresh_from_db()
    # What is sent again unchanged must not put today's standing in the place of that day's.
    given, values = values, {f: value for f, value in values.items() if getattr(layer, f) != value}
    before = {f: getattr(layer, f) for f in values}
    for field, value in values.items():
        setattr(layer, field, value)
    if values.get("fill") is not None and "glaze" not in given:
        layer.glaze = values["fill"].glaze
    happened("applied_at", layer.applied_at, _("Give the moment at which it was put on."))
    if "fill" in values or "glaze" in values:
        _fit(layer)
    elif "applied_at" in values:
        _was_in_the_bucket(layer)
    if "applied_at" in values:
        before["precedes"], layer.precedes = layer.precedes, melted_by(layer)
        values["precedes"] = layer.precedes
        if before["precedes"] == layer.precedes:
            del before["precedes"], values["precedes"]
    check(layer).save()
    _after_layers(tile)
    if values:
        record_change(by=by, verb="changed a layer", obj=tile, before=before, after=values)
    return layer


@transaction.atomic
def remove_layer(*, by: Person, layer: Layer, version: int | None = None, reason: str = "") -> None:
    """Take away a layer that was logged by mistake; the history keeps what it said. Not once it was fired."""
    tile = layer.tile
    require_edit(by, tile)
    touch(tile, version)
    tile.refresh_from_db()
    layer.refresh_from_db()
    if layer.precedes is not None and not layer.precedes.takes_tiles:
        raise Refused(
            _("This tile has been fired with this layer. Correct the layer instead of taking it away.")
        )
    before = {f: getattr(layer, f) for f in HISTORY_FIELDS}
    position = layer.position
    layer.delete()
    for later in tile.layers.filter(position__gt=position).order_by("position"):
        Layer.objects.filter(pk=later.pk).update(position=F("position") - 1)
    _after_layers(tile)
    record_change(by=by, verb="took away a layer", obj=tile, before=before, reason=reason)


@transaction.atomic
def set_layers(*, by: Person, tile: Tile, layers: list[dict[str, Any]], version: int | None = None) -> Tile:
    """All layers of a tile that was not fired yet, from the clay outwards, in place of what was there."""
    require_edit(by, tile)
    touch(tile, version)
    tile.refresh_from_db()
    _glazeable(tile)
    # Also in a kiln that is still hot, or was stopped early: what a firing has seen is not replaced.
    waiting = Firing.TAKES_TILES
    melted = tile.layers.exclude(precedes=None).exclude(precedes__state__in=waiting).exists()
    if melted or tile.state in (Tile.State.FIRED, Tile.State.RECORDED):
        raise Refused({"layers": _("This tile has been fired. Correct its layers one by one.")})
    if len(layers) > MOST_LAYERS:
        raise Refused({"layers": _("A tile takes up to %(most)s layers.") % {"most": MOST_LAYERS}})
    before = [
        {f: getattr(la, f) for f in HISTORY_FIELDS}
        for la in tile.layers.select_related("glaze", "fill", "stirred_in")
    ]
    tile.layers.all().delete()
    built = []
    for position, fields in enumerate(layers, start=1):
        try:
            built.append(_build(tile, by, position, fields))
        except Refused as refused:
            raise Refused(
                {f"layers.{position - 1}.{f}".rstrip("."): s for f, s in refused.problems.items()}
            ) from refused
    Layer.objects.bulk_create(built)
    _after_layers(tile)
    after = [{f: getattr(la, f) for f in HISTORY_FIELDS} for la in built]
    record_change(by=by, verb="set the layers", obj=tile, before={"layers": before}, after={"layers": after})
    return tile


@transaction.atomic
def create_tile_whole(
    *, by: Person, number: str, layers: list[dict[str, Any]], id: uuid.UUID | None = None, **fields: Any
) -> Tile:
    """A tile and its layers in one write, as a program sends it."""
    from tiles.actions.numbers import add_tile

    tile = add_tile(by=by, number=number, id=id, **fields)
    return set_layers(by=by, tile=tile, layers=layers) if layers else tile
