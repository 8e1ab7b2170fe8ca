"""How far glazes moved on the studio's own tiles, each where nothing but itself lies on the clay."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db.models import Exists, F, Max, OuterRef, Q

from inventory.calc.cones import Cone
from tiles.models import CombinationPart, Outcome


def most_moved(glazes: Iterable[Any], target: Cone | None) -> dict[Any, Decimal]:
    """By the key of the glaze, the most that anybody measured on a tile fired no hotter than `target`.

    What moved at a cooler cone moves at least as far at a hotter one. Tiles that their makers keep to themselves
    count in nobody's figures. Two queries, however many glazes.
    """
    parts = CombinationPart.objects.filter(glaze__in=list(glazes))
    another = CombinationPart.objects.filter(combination=OuterRef("combination")).exclude(
        glaze=OuterRef("glaze")
    )
    alone = dict(parts.filter(~Exists(another)).values_list("combination", "glaze"))
    if not alone:
        return {}
    looks = Outcome.objects.filter(movement_mm__isnull=False).exclude(tile__visibility="mine")
    if target is not None:
        looks = looks.filter(tile__cone__lte=target)
    # A look at a whole tile of one zone names no combination of its own.
    whole = Q(combination=None, tile__zones__kind="whole", tile__zones__combination__in=alone)
    rows = looks.filter(Q(combination__in=alone) | whole).order_by()
    found: dict[Any, Decimal] = {}
    for own, of_zone, moved in rows.values_list("combination", F("tile__zones__combination")).annotate(
        moved=Max("movement_mm")
    ):
        glaze = alone.get(own) if own is not None else alone.get(of_zone)
        if glaze is not None:
            found[glaze] = max(moved, found.get(glaze, moved))
    return found
