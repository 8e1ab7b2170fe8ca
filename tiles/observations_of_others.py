"""What other tiles say about a fault: of the same glaze, the same firing, the same body; and what stood near."""

from collections.abc import Iterator
from typing import Any

from django.db.models import Count, Q
from django.utils.translation import gettext as _

from inventory.models import GlazeSubstance
from tiles.calc.sound import judgement
from tiles.calc.wilson import share
from tiles.meanings import TOLD, looked_at
from tiles.models import Layer, Tile, TileFiring

VOLATILE = ("Cu", "Cr")


def of_others(
    tile: Tile, fault: str, layers: list[Any], last: Any, person: Any
) -> Iterator[tuple[str, bool | None, str]]:
    """Each a word only where Wilson's interval of the tiles lies on one side of a half; else not known."""
    glazes = [one.glaze_id for one in layers]
    of_glaze = Q(pk__in=Layer.objects.filter(glaze__in=glazes).order_by().values("tile"))
    in_firing = (
        Q(pk__in=TileFiring.objects.filter(firing=last.firing_id).values("tile")) if last else Q(pk__in=[])
    )
    groups = {
        "same_glaze": of_glaze,
        # Of other glazes only: else the glaze would speak twice.
        "same_firing": in_firing & ~of_glaze,
        "same_body": Q(body=tile.body_id) & ~of_glaze if tile.body_id else Q(pk__in=[]),
    }
    with_it = TOLD["with_fault"].fits([fault])
    seen: Any = Tile.objects.visible_to(person)
    counts = (
        seen.filter(looked_at())
        .exclude(pk=tile.pk)
        .order_by()
        .aggregate(
            **{f"{code}_all": Count("pk", filter=group) for code, group in groups.items()},
            **{f"{code}_with": Count("pk", filter=group & with_it) for code, group in groups.items()},
        )
    )
    for code in groups:
        n, k = counts[f"{code}_all"], counts[f"{code}_with"]
        word = judgement(share(k, n))
        yield code, {"mostly": True, "seldom": False}.get(word), _("%(k)s of %(n)s") % {"k": k, "n": n}
    if last is not None and _volatile_near(tile, glazes, last, seen):
        yield "volatile_near", True, ""


def _volatile_near(tile: Tile, glazes: list[Any], last: Any, seen: Any) -> bool:
    """A glaze with copper or chrome noted on it was in the firing, on another tile that the person may see."""
    noted = GlazeSubstance.objects.filter(substance__in=VOLATILE, taken_back_at=None).exclude(
        glaze__in=glazes
    )
    near = TileFiring.objects.filter(firing=last.firing_id, tile__in=seen.order_by()).exclude(tile=tile)
    return Layer.objects.filter(tile__in=near.values("tile"), glaze__in=noted.values("glaze")).exists()
