"""How the wall hangs: by cone, by surface, by glaze or by date."""

from collections.abc import Mapping
from typing import Any, Self

from django.db.models import Case, CharField, DateField, IntegerField, OuterRef, Subquery, Value, When
from django.db.models.functions import Cast, Coalesce, TruncDate

from inventory.models.glaze import Surface
from tiles.queries_looks import LooksDue

NO_CONE = -99  # cooler than any cone's rank
# Hottest first, what has no cone last, then newest first. No column is ever null, and the last is unique.
HANGING = ("-hang_rank", "-created_at", "-id")
HANGINGS = {
    "cone": HANGING,
    "surface": ("hang_surface", *HANGING),
    "glaze": ("is_bare", "hang_glaze", *HANGING),
    "date": ("-day", "-created_at", "-id"),
}


def hanging(asked: Mapping[str, Any]) -> tuple[str, ...]:
    """The order of what was asked for, by cone unless it says otherwise."""
    return HANGINGS.get(asked.get("hang") or "cone", HANGING)


class Hung(LooksDue):
    """What the tiles' queryset has of the order of the wall."""

    def with_hanging(self) -> Self:
        """Adds `hang_rank`, the rank of its cone, and `day`: when it was made, else when it was first noted."""
        return self.annotate(
            hang_rank=Coalesce(Cast("cone", IntegerField()), Value(NO_CONE)),
            day=Coalesce("made_on", TruncDate("created_at"), output_field=DateField()),
        )

    def hung_by(self, how: str) -> Self:
        """Adds the columns of `HANGINGS[how]` that `with_hanging` has not added."""
        from tiles.models import Layer, Outcome

        if how == "surface":
            seen = Outcome.objects.filter(tile=OuterRef("pk")).exclude(surface="")
            last = Subquery(seen.order_by("-looked_on", "-created_at").values("surface")[:1])
            ranks = [When(last_surface=name, then=Value(n)) for n, name in enumerate(Surface.values)]
            return self.annotate(last_surface=last).annotate(
                hang_surface=Case(*ranks, default=Value(len(Surface.values)), output_field=IntegerField())
            )
        if how == "glaze":
            outermost = Layer.objects.filter(tile=OuterRef("pk")).glazing().order_by("-position")
            name = Coalesce(
                Subquery(outermost.values("glaze__name")[:1]), Value(""), output_field=CharField()
            )
            return self.annotate(hang_glaze=name).annotate(
                is_bare=Case(
                    When(hang_glaze="", then=Value(1)), default=Value(0), output_field=IntegerField()
                )
            )
        return self
