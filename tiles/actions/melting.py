"""Which firing a layer went through first: decided by when it was put on, however late it is logged."""

from datetime import datetime

from django.db.models import Q

from tiles.models import Firing, Layer, Tile


def firing_that_melted(tile: Tile, applied_at: datetime | None) -> Firing | None:
    """The earliest firing of `tile` that began after `applied_at`; None if none has, or the moment is unknown."""
    if applied_at is None:
        return None
    begun = Firing.objects.filter(tile_firings__tile=tile, started_at__gte=applied_at)
    return begun.order_by("started_at", "number").first()


def melted_by(layer: Layer) -> Firing | None:
    """The firing of a layer whose moment was corrected. One that had begun before cannot have been it."""
    found = firing_that_melted(layer.tile, layer.applied_at)
    if found is not None or layer.precedes is None or layer.applied_at is None:
        return found or layer.precedes
    begun = layer.precedes.started_at
    return None if begun and begun < layer.applied_at else layer.precedes


def melts_now(firing: Firing) -> None:
    """A firing that begins melts what was put on its tiles by then, also after they were loaded."""
    by_then = Q(applied_at=None) | Q(applied_at__lte=firing.started_at)
    Layer.objects.filter(by_then, tile__tile_firings__firing=firing, precedes=None).update(precedes=firing)
