"""A person's own tiles, in the order in which they ask for something."""

from typing import Any

from django.db.models import Case, Exists, IntegerField, OuterRef, Q, QuerySet, Subquery, Value, When

from tiles.models import Firing, Outcome, Tile, TileFiring

WAITING = 0
MINE_FIRST = ("mine_order", "-created_at", "-id")
# After those that wait for a result: what is still to be done, then what is done, then what is gone.
ORDER = ("glazed", "bisqued", "blank", "fired", "recorded", "lost", "broken")


def with_last_firing(rows: Any) -> Any:
    """Adds `last_firing` and `last_number`, of the last firing that melted glaze, and `waits`.

    A tile waits for a result while nobody has looked at it since that firing.
    """
    out_of = TileFiring.objects.filter(tile=OuterRef("pk"), firing__state=Firing.State.UNLOADED).exclude(
        firing__kind=Firing.Kind.BISQUE
    )
    last = out_of.order_by("-firing__unloaded_at", "-firing__number")
    seen = Outcome.objects.filter(tile=OuterRef("pk"), firing=OuterRef("last_firing"))
    fired = Q(state__in=[Tile.State.FIRED, Tile.State.RECORDED], last_firing__isnull=False)
    return rows.annotate(
        last_firing=Subquery(last.values("firing")[:1]),
        last_number=Subquery(last.values("firing__number")[:1]),
    ).annotate(waits=Case(When(fired & ~Exists(seen), then=Value(True)), default=Value(False)))


def own_tiles(person: Any) -> QuerySet[Any]:
    """Adds `mine_order`."""
    others = [When(state=state, then=Value(n)) for n, state in enumerate(ORDER, start=1)]
    rows: Any = Tile.objects.visible_to(person).filter(maker=person.pk).for_the_wall()
    return with_last_firing(rows).annotate(
        mine_order=Case(
            When(waits=True, then=Value(WAITING)), *others, default=Value(99), output_field=IntegerField()
        )
    )
