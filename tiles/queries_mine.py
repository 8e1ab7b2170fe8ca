"""A person's own tiles, in the order in which they ask for something."""

from typing import Any

from django.db.models import Case, IntegerField, QuerySet, Value, When

from tiles.models import Tile

WAITING = 0
MINE_FIRST = ("mine_order", "-created_at", "-id")
# After those that wait for a result: what is still to be done, then what is done, then what is gone.
ORDER = ("glazed", "bisqued", "blank", "fired", "recorded", "lost", "broken")


def own_tiles(person: Any) -> QuerySet[Any]:
    """Adds `mine_order`, by which those that wait for a result come first."""
    rows: Any = Tile.objects.visible_to(person).filter(maker=person.pk).for_the_wall()
    others = [When(state=state, then=Value(n)) for n, state in enumerate(ORDER, start=1)]
    return rows.with_waiting().annotate(
        mine_order=Case(
            When(is_waiting=True, then=Value(WAITING)),
            *others,
            default=Value(99),
            output_field=IntegerField(),
        )
    )
