"""What each answer to a question of the wall means, for the filter and for the counts beside the answers.

`TOLD` says where an answer is written: rows that point at tiles, and the column with the answer. A tile fits when one
of its rows has one of the answers; counting groups the same rows by the same column. What is no such column is a
condition of its own (`MEANINGS`), of a tile that was read `for_the_wall`.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Case, CharField, Count, Exists, OuterRef, Q, QuerySet, Subquery, Value, When
from django.db.models.functions import Coalesce, Least

from inventory.models import Fill, Glaze
from tiles.calc.movement import LITTLE_UP_TO_MM, NONE_BELOW_MM
from tiles.models import CombinationPart, Firing, Layer, Outcome, OutcomeFault, Tile, TileFiring, TileZone

MOST_LAYERS = 4  # "4 or more"


@dataclass(frozen=True)
class Told:
    """Rows with an answer: `column` holds it, `tile` leads to the tile."""

    rows: Callable[[], QuerySet[Any]]
    column: str
    tile: str = "tile"

    def fits(self, answers: Iterable[Any]) -> Q:
        """The tiles with a row that has one of the answers."""
        return Q(
            pk__in=self.rows().order_by().filter(**{f"{self.column}__in": list(answers)}).values(self.tile)
        )

    def counts(self, tiles: QuerySet[Any]) -> dict[Any, int]:
        """How many of `tiles` have each answer, in one query."""
        here = self.rows().order_by().filter(**{f"{self.tile}__in": tiles.order_by().values("pk")})
        return dict(here.values_list(self.column).annotate(n=Count(self.tile, distinct=True)).order_by())


def _moved() -> QuerySet[Any]:
    """`calc.movement.movement_word`, as a column."""
    word = Case(
        When(movement_mm__lt=NONE_BELOW_MM, then=Value("none")),
        When(movement_mm__lte=LITTLE_UP_TO_MM, then=Value("little")),
        default=Value("lot"),
        output_field=CharField(),
    )
    return Outcome.objects.filter(movement_mm__isnull=False).annotate(moved=word)


def _last_verdicts() -> QuerySet[Any]:
    """The latest verdict on each tile: what was thought before somebody looked again no longer holds."""
    judged = Outcome.objects.exclude(verdict="")
    later = judged.filter(tile=OuterRef("tile")).filter(
        Q(looked_on__gt=OuterRef("looked_on"))
        | Q(looked_on=OuterRef("looked_on"), created_at__gt=OuterRef("created_at"))
    )
    return judged.filter(~Exists(later))


def _parts(*, on_top: bool) -> QuerySet[Any]:
    """The glazes that lie on another in some zone, outermost; or those that another one lies on."""
    higher = CombinationPart.objects.filter(
        combination=OuterRef("combination"), position__gt=OuterRef("position")
    )
    parts = CombinationPart.objects.filter(combination__zones__isnull=False)
    return parts.filter(~Exists(higher), position__gt=1) if on_top else parts.filter(Exists(higher))


def _layered() -> QuerySet[Any]:
    """Wax is no layer of the fired ware."""
    layers = Layer.objects.filter(tile=OuterRef("pk")).glazing().order_by().values("tile")
    count = Coalesce(Subquery(layers.annotate(n=Count("pk")).values("n")), Value(0))
    return Tile.objects.annotate(layer_count=Least(count, Value(MOST_LAYERS)))


def _melted() -> QuerySet[Any]:
    """The firings that a tile's glaze went through, to their end or not."""
    return TileFiring.objects.filter(firing__state__in=Firing.BEEN_HOT).exclude(
        firing__kind=Firing.Kind.BISQUE
    )


TOLD = {
    "surface": Told(lambda: Outcome.objects.exclude(surface=""), "surface"),
    "opacity": Told(lambda: Outcome.objects.exclude(opacity=""), "opacity"),
    "movement": Told(_moved, "moved"),
    "with_fault": Told(OutcomeFault.objects.all, "kind", "outcome__tile"),
    "verdict": Told(_last_verdicts, "verdict"),
    "glaze": Told(Layer.objects.all, "glaze"),
    "glaze_top": Told(lambda: _parts(on_top=True), "glaze", "combination__zones__tile"),
    "glaze_under": Told(lambda: _parts(on_top=False), "glaze", "combination__zones__tile"),
    "combination": Told(TileZone.objects.all, "combination"),
    "layers": Told(_layered, "layer_count", "pk"),
    "body": Told(Tile.objects.all, "body", "pk"),
    "atmosphere": Told(_melted, "firing__atmosphere"),
    "kiln": Told(_melted, "firing__kiln"),
    "firing": Told(TileFiring.objects.all, "firing"),
    "place": Told(Tile.objects.all, "place", "pk"),
    "maker": Told(Tile.objects.all, "maker", "pk"),
    "state": Told(Tile.objects.all, "state", "pk"),
    "cone": Told(Tile.objects.all, "cone", "pk"),
}


def looked_at() -> Q:
    return Q(pk__in=Outcome.objects.order_by().values("tile"))


def _without_fault(kinds: list[str]) -> Q:
    """Absence is known only of a tile that was looked at."""
    return looked_at() & ~TOLD["with_fault"].fits(kinds)


def _label(value: str) -> Q:
    if value == "labelled":
        return Q(is_labelled=True, is_kept_from_food=False)
    if value == "not_for_food":
        return Q(is_kept_from_food=True)
    unread = Q(fill=None) | Q(fill__label__in=["", "none"]) | Q(glaze__origin=Glaze.Origin.MIXED)
    return Q(pk__in=Layer.objects.glazing().filter(unread).order_by().values("tile"))


def _use_then(value: str) -> Q:
    """What was said of its buckets when they were used: 'use' of every one, else of one of them at least."""
    layers = Layer.objects.order_by()
    if value != "use":
        return Q(pk__in=layers.filter(use_then=value).values("tile"))
    return Q(pk__in=layers.values("tile")) & ~Q(pk__in=layers.exclude(use_then="use").values("tile"))


def _use_now(value: str) -> Q:
    """What is said of its buckets now. 'gone': one was emptied, or it is not known out of which it came."""
    layers = Layer.objects.order_by()
    in_use: Any = Fill.objects.in_use()
    if value == "gone":
        return Q(pk__in=layers.exclude(fill__in=in_use.values("pk")).values("tile"))
    standing: Any = in_use.with_standing()
    said = layers.filter(fill__in=standing.filter(use=value).values("pk"))
    if value != "use":
        return Q(pk__in=said.values("tile"))
    others = layers.exclude(pk__in=said.values("pk"))
    return Q(pk__in=layers.values("tile")) & ~Q(pk__in=others.values("tile"))


def _waiting(value: bool) -> Q:
    rows: Any = Tile.objects.order_by()
    return Q(pk__in=rows.with_waiting().filter(is_waiting=value).values("pk"))


MEANINGS: dict[str, Callable[[Any], Q]] = {
    "cone_min": lambda cone: Q(cone__gte=cone),
    "cone_max": lambda cone: Q(cone__lte=cone),
    "without_fault": _without_fault,
    "label": _label,
    "standing": lambda value: Q(is_spoiled=value == "touched"),
    "use_then": _use_then,
    "use_now": _use_now,
    "waiting": _waiting,
    "marked": lambda value: Q(is_marked=value),
    "date_from": lambda day: Q(day__gte=day),
    "date_to": lambda day: Q(day__lte=day),
}
