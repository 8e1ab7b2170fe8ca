"""A person's own tiles, in the order in which they ask for something."""

from typing import Any

from django.db.models import Case, Exists, IntegerField, OuterRef, Q, QuerySet, Subquery, Value, When

from tiles.models import Firing, Outcome, Tile, TileFiring

WAITING = 0
MINE_FIRST = ("mine_order", "-created_at", "-id")
# After those that wait for a result: what is still to be done, then what is done, then what is gone.
ORDER = ("glazed", "bisqued", "blank", "fired", "recorded", "lost", "broken")


def own_tiles(person: Any) -> QuerySet[Any]:
    """Adds `mine_order`. A tile waits for a result while nobody has looked at it since its last melting firing."""
    out_of = TileFiring.objects.filter(tile=OuterRef("pk"), firing__state=Firing.State.UNLOADED).exclude(
        firing__kind=Firing.Kind.BISQUE
    )
    last = out_of.order_by("-firing__unloaded_at", "-firing__number").values("firing")[:1]
    seen = Outcome.objects.filter(tile=OuterRef("pk"), firing=OuterRef("last_firing"))
    waiting = Q(state__in=[Tile.State.FIRED, Tile.State.RECORDED], last_firing__isnull=False) & ~Exists(seen)
    others = [When(state=state, then=Value(n)) for n, state in enumerate(ORDER, start=1)]
    rows: Any = Tile.objects.visible_to(person).filter(maker=person.pk).for_the_wall()
    return rows.annotate(last_firing=Subquery(last)).annotate(
        mine_order=Case(
            When(waiting, then=Value(WAITING)), *others, default=Value(99), output_field=IntegerField()
        )
    )
