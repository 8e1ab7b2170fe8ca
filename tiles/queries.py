"""Reads of the wall: who sees which tile, what was done to it, and what touched it since."""

from collections.abc import Iterable
from typing import Any, Self

from django.db import models
from django.db.models import Case, Count, Exists, OuterRef, Prefetch, Q, Subquery, Value, When
from django.db.models.functions import Coalesce

from inventory.models.flag import Flag
from studio.roles import is_device, may
from tiles.queries_hanging import HANGING, Hung

__all__ = ["HANGING", "CombinationQuerySet", "LayerQuerySet", "RunQuerySet", "TileQuerySet"]

SPOILING = ("contaminated", "wrong_label")
LABELLED = ("food_safe", "dinnerware_safe")


class LayerQuerySet(models.QuerySet[Any]):
    def glazing(self) -> Self:
        """Every layer that stays on the pot: wax burns away."""
        return self.exclude(glaze__kind="wax")

    def touched_by(self, spells: Iterable[Any]) -> Self:
        """The layers that were put on within one of the spells (inventory.reach) of their fill.

        The rule of `FlagQuerySet.touching`: both ends count, and an unknown moment is touched.
        """
        touched = Q(pk__in=[])
        for spell in spells:
            unknown, within = Q(applied_at__isnull=True), Q(fill=spell.fill.pk)
            if spell.since is not None:
                within &= unknown | Q(applied_at__gte=spell.since)
            if spell.until is not None:
                within &= unknown | Q(applied_at__lte=spell.until)
            touched |= within
        return self.filter(touched)

    def with_touch(self) -> Self:
        """Adds `is_spoiled`, `is_kept_from_food`: what flags say of the fill at the time, whenever raised."""
        touching = Flag.objects.touching(fill=OuterRef("fill"), at=OuterRef("applied_at"))
        return self.annotate(
            is_spoiled=Exists(touching.filter(kind__in=SPOILING)),
            is_kept_from_food=Case(
                When(
                    Q(Exists(touching.filter(kind="not_for_food"))) | Q(fill__label="not_for_food"),
                    then=Value(True),
                ),
                default=Value(False),
            ),
        )


class TileQuerySet(Hung):
    def visible_to(self, person: Any) -> Self:
        """Members see shared tiles and their own; technicians every tile; a device no private one; visitors none."""
        if not may(person, "studio.see"):
            return self.none()
        if may(person, "tile.see_private"):
            return self
        shared = ~Q(visibility="mine")
        return self.filter(shared if is_device(person) else shared | Q(maker=person))

    def on_the_open_wall(self) -> Self:
        """What everybody may see, without log-in and without a word about who made it."""
        return self.filter(visibility="open")

    def editable_by(self, person: Any) -> Self:
        """The rule of `tiles.actions.may_edit`, as a question to the database."""
        if may(person, "tile.change_any"):
            return self
        return self.visible_to(person).filter(maker=person) if may(person, "tile.log") else self.none()

    def waiting_for(self, kind: str) -> Self:
        """What a firing of this kind would take: bare tiles to bisque, glazed ones, or fired ones glazed anew.

        What only came out of firings that were stopped early still waits, looked at or not, for either of the last.
        """
        from tiles.models import Layer, TileFiring

        fired = TileFiring.objects.filter(tile=OuterRef("pk"))
        free = self.exclude(
            Exists(fired.filter(firing__state__in=["planned", "loading", "firing", "cooling"]))
        )
        if kind == "bisque":
            return free.filter(state="blank")
        melted = fired.exclude(firing__kind="bisque")
        half_done = Q(
            Exists(melted.filter(firing__state="stopped")),
            ~Exists(melted.filter(firing__state="unloaded")),
            state__in=["glazed", "recorded"],
        )
        if kind == "glaze":
            return free.filter(Q(state="glazed") | half_done)
        unfired = Layer.objects.filter(tile=OuterRef("pk"), precedes=None)
        glazed_anew = Q(Exists(unfired), state__in=["fired", "recorded"])
        return free.filter(glazed_anew | half_done if kind == "refire" else glazed_anew)

    def with_standing(self) -> Self:
        """Adds `is_spoiled` (any layer), `is_kept_from_food` (any but wax), `is_labelled` (every one but wax)."""
        from tiles.models import Layer

        layers = Layer.objects.filter(tile=OuterRef("pk")).order_by()
        touched: Any = layers.with_touch()
        # A glaze that turned out to be mixed here has no container to go by, whatever was read once.
        bought = {"fill__isnull": False, "glaze__origin": "bought"}
        unlabelled = layers.glazing().exclude(fill__label__in=LABELLED, **bought)
        return self.annotate(
            is_spoiled=Exists(touched.filter(is_spoiled=True)),
            # Wax burns out and is no layer of the fired ware, so its bucket says nothing about food.
            is_kept_from_food=Exists(touched.glazing().filter(is_kept_from_food=True)),
            is_labelled=Case(
                When(Q(Exists(layers.glazing())) & ~Q(Exists(unlabelled)), then=Value(True)),
                default=Value(False),
            ),
        )

    def with_mark(self) -> Self:
        """Adds `is_marked`: set aside because of a flag."""
        from tiles.models import FlagMark

        marks = FlagMark.objects.filter(tile=OuterRef("pk"), undone_at=None)
        return self.annotate(is_marked=Exists(marks))

    def for_the_wall(self) -> Self:
        """Everything that a hung tile shows, in a constant number of queries; `HANGING` is its order."""
        from tiles.models import Layer, Outcome, Photo

        return (
            self.select_related("body", "maker", "place", "place__parent")
            .with_standing()
            .with_mark()
            .with_hanging()
            .prefetch_related(
                Prefetch("layers", Layer.objects.select_related("glaze", "fill__bucket", "stirred_in")),
                Prefetch("outcomes", Outcome.objects.prefetch_related("faults")),
                Prefetch("photos", Photo.objects.filter(archived_at=None)),
            )
        )

    def with_glaze(self, glaze: Any) -> Self:
        from tiles.models import Layer

        return self.filter(Exists(Layer.objects.filter(tile=OuterRef("pk"), glaze=glaze)))


class CombinationQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Combinations of the tiles that the person may see: a private tile's layering is private too."""
        from tiles.models import Outcome, Tile, TileZone

        if not may(person, "studio.see"):
            return self.none()
        if may(person, "tile.see_private"):
            return self
        here = {"combination": OuterRef("pk"), "tile__in": Tile.objects.visible_to(person)}
        return self.filter(Exists(TileZone.objects.filter(**here)) | Exists(Outcome.objects.filter(**here)))

    def with_counts(self, person: Any) -> Self:
        """Adds `tile_count`, `look_count` and `set_aside_count`, of the tiles that the person may see."""
        from tiles.models import FlagMark, Outcome, Tile, TileZone

        here = {"combination": OuterRef("pk"), "tile__in": Tile.objects.visible_to(person)}

        def count(rows: models.QuerySet[Any], what: str) -> Any:
            grouped = rows.filter(**here).order_by().values("combination")
            return Coalesce(Subquery(grouped.annotate(n=Count(what, distinct=True)).values("n")), Value(0))

        marks = FlagMark.objects.filter(
            tile=OuterRef("tile"),
            undone_at=None,
            flag__fill__glaze__combination_parts__combination=OuterRef("combination"),
        )
        return self.annotate(
            tile_count=count(TileZone.objects.all(), "tile"),
            look_count=count(Outcome.objects.all(), "pk"),
            set_aside_count=count(TileZone.objects.filter(Exists(marks)), "tile"),
        )

    def tried(self) -> Self:
        """After `with_counts`: without those that only stood for a moment while layers were logged."""
        return self.filter(Q(tile_count__gt=0) | Q(look_count__gt=0) | ~Q(remark=""))


class RunQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Everybody who sees the studio sees which numbers are given; a private tile stays out of the counts."""
        return self if may(person, "studio.see") else self.none()

    def of(self, person: Any) -> Self:
        """Those that the person reserved, or of which a tile is theirs."""
        from tiles.models import Tile

        theirs = Tile.objects.filter(run=OuterRef("pk"), maker=person)
        return self.filter(Q(reserved_by=person) | Exists(theirs))
