"""What to programme in one kiln for a true cone on one shelf, within what it and its load can take."""

from typing import Any

from django.db.models import Q
from django.utils.translation import gettext as _

from inventory.calc.cones import Cone
from tiles.calc.programme import Limit, Programme, programme
from tiles.kiln_truth import KilnTruth
from tiles.models import ClayBody, Firing, Kiln, Layer, Tile


def next_firing(kiln: Kiln) -> Firing | None:
    """The one that is loaded next, or planned."""
    waiting = kiln.firings.filter(state__in=Firing.TAKES_TILES)
    return waiting.order_by("-state", "planned_on", "number").first()


def middle(kiln: Kiln) -> str:
    """The shelf that is meant unless another is named."""
    positions = kiln.positions or [""]
    return "middle" if "middle" in positions else positions[len(positions) // 2]


def load_limits(firing: Firing, person: Any) -> list[Limit]:
    """The hottest cone of every clay body and glaze in the load; what the person may not see is not named."""
    seen = set(
        Tile.objects.visible_to(person).filter(tile_firings__firing=firing).values_list("pk", flat=True)
    )
    shown = Q(tiles__in=seen) | Q(pieces__firing=firing, pieces__taken_out_at=None)
    inside = ClayBody.objects.filter(tiles__tile_firings__firing=firing)
    named = ClayBody.objects.filter(shown, cone_high__isnull=False).distinct()
    found = {Limit(body.cone_high, body.name) for body in named if body.cone_high}
    hidden = inside.filter(cone_high__isnull=False).exclude(pk__in=[body.pk for body in named])
    private = _("the clay of a tile that is kept private")
    found |= {Limit(body.cone_high, private) for body in hidden.distinct() if body.cone_high}
    # What an earlier firing melted melts again.
    layers = Layer.objects.filter(tile__tile_firings__firing=firing).glazing().select_related("glaze")
    for layer in layers:
        if layer.glaze.cone_high:
            name = layer.glaze.name if layer.tile_id in seen else _("a glaze on a tile that is kept private")
            found.add(Limit(layer.glaze.cone_high, name))
    return sorted(found, key=lambda limit: (limit.cone, limit.whose))


def advise(truth: KilnTruth, asked: Cone, position: str, firing: Firing | None, person: Any) -> Programme:
    """`position` is one of the kiln's; `firing` is the load whose bodies and glazes set the limit."""
    shelf = next(one for one in truth.shelves if one.position == position)
    load = load_limits(firing, person) if firing else []
    return programme(asked, shelf, truth.shelves, truth.kiln.highest_cone, load)
