"""A tile's record as what is drawn of it: the stack of its layers, and the card that hangs on a rail.

Both read what `Tile.objects.for_the_wall()` has fetched and ask the database nothing more.
"""

from django.urls import reverse
from django.utils.translation import gettext as _

from inventory.sentences import cone_words
from tiles.drawing_words import happened_words
from tiles.drawings import StackLayer, TileCard
from tiles.fault_places import place_words
from tiles.models import Layer, Outcome, OutcomeFault, Photo, Tile


def stack_layers(tile: Tile) -> list[StackLayer]:
    """The layers from the clay outwards, as `{% stack %}` and the tile's face draw them."""
    return [
        StackLayer(
            name=layer.glaze.name,
            kind=layer.glaze.kind,
            coats=layer.coats,
            method=layer.method,
            area=layer.area,
            colour=layer.glaze.colour or None,
            wiped_back=layer.wiped_back,
            happened=happened_to(layer),
        )
        for layer in sorted(tile.layers.all(), key=lambda layer: layer.position)
    ]


def happened_to(layer: Layer) -> str:
    """What else was noted of a layer."""
    state = str(layer.get_ground_state_display()) if layer.ground_state else ""
    return happened_words(state, layer.is_even, layer.stirred_in.name if layer.stirred_in else "")


def best_photo(tile: Tile) -> Photo | None:
    """The newest photo that is not archived."""
    kept = [photo for photo in tile.photos.all() if photo.archived_at is None]
    return max(kept, key=lambda photo: photo.created_at, default=None)


def photo_url(photo: Photo, size: str) -> str:
    return reverse("tiles:photo-sized", args=[photo.pk, size])


def cone_line(tile: Tile) -> str:
    """The tile's cone in a few words; what it rests on only where that is weak."""
    if tile.cone is not None:
        words = cone_words(tile.cone)
        return _("%(cone)s, planned only") % {"cone": words} if tile.cone_basis == "planned" else words
    return _("cone not proved: no witness cone was down") if tile.cone_basis == "witness_short" else ""


def card(tile: Tile) -> TileCard:
    """The hung tile: photo or drawing, cone and surface, the faults seen, and whether a flag touches it."""
    photo = best_photo(tile)
    looks = list(tile.outcomes.all())
    surface = next((str(look.get_surface_display()) for look in looks if look.surface), "")
    facts = tuple(fact for fact in (cone_line(tile), surface) if fact) or (str(tile.get_state_display()),)
    note = ""
    if getattr(tile, "is_spoiled", False):
        note = _("touched by a flag")
    elif getattr(tile, "is_kept_from_food", False):
        note = _("keep away from food")
    return TileCard(
        number=tile.number,
        url=tile.get_absolute_url(),
        photo_url=photo_url(photo, "small") if photo else None,
        body_colour=tile.body.colour if tile.body else None,
        layers=tuple(stack_layers(tile)),
        facts=facts,
        faults=faults_seen(looks),
        note=note,
        mark=_("set aside") if getattr(tile, "is_marked", False) else "",
    )


def faults_seen(looks: list[Outcome]) -> tuple[str, ...]:
    """The faults of every look since the newest firing, each once: a craze does not heal by itself."""
    since = [look for look in looks if look.firing_id == looks[0].firing_id]
    return tuple(dict.fromkeys(fault_words(fault) for look in since for fault in look.faults.all()))


def fault_words(fault: OutcomeFault) -> str:
    kind = str(fault.get_kind_display())
    where = place_words(fault.where)
    return _("%(fault)s: %(where)s") % {"fault": kind, "where": where} if where else kind
