"""Reads of the shelf. `with_standing` is the truth about a fill; its reasons are read from its own columns."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any, Self

from django.db import models
from django.db.models import Case, Exists, F, OuterRef, Prefetch, Q, Subquery, Value, When
from django.db.models.functions import Coalesce
from django.utils import timezone

from inventory.calc.standing import TOXIC, FillFacts, Standing, standing
from inventory.walk import Walk
from studio.models import Studio
from studio.roles import may

# The columns that `walking_order` goes by, neither of them ever null.
WALK = ("walk", "code")

OPEN_FIRST = ("is_closed", "-created_at", "-id")

FLAG_KINDS = ("contaminated", "wrong_label", "dried_out", "settled_hard", "other", "not_for_food")


class Thousandths(models.DecimalField):
    """SQLite hands a computed decimal back with fifteen digits; a reading has three places."""

    def from_db_value(self, value: Decimal | None, expression: Any, connection: Any) -> Decimal | None:
        return None if value is None else value.quantize(Decimal("0.001"))


class FillQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        return self if may(person, "studio.see") else self.none()

    def in_use(self) -> Self:
        return self.filter(ended_at__isnull=True, bucket__archived_at__isnull=True)

    def low(self) -> Self:
        """A quarter full or less, by eye or, where nobody looked, by what was measured."""
        seen = Q(level__in=["quarter", "nearly_empty", "empty"])
        counted = Q(level="", balance_ml__lte=F("bucket__capacity_ml") * Decimal("0.25"))
        return self.filter(seen | counted)

    def for_a_class_of(self, person: Any) -> Self:
        """What a teacher can put on a class list: the studio's buckets and the own jars of that person."""
        return self.in_use().of_the_studio_or(person.pk)

    def of_the_studio_or(self, owner: Any) -> Self:
        """What stands in the studio's buckets and in the own jars of one person (a key; None: of nobody)."""
        return self.filter(Q(bucket__owner=None) | Q(bucket__owner=owner))

    def in_walking_order(self) -> Self:
        """As `BucketQuerySet.walking_order`, of what stands in the buckets."""
        walk = Walk.now().rank("bucket__place", "bucket__owner")
        return self.annotate(walk=walk, code=F("bucket__code")).order_by(*WALK)

    def with_standing(self, now: datetime | None = None, stale_after_days: int | None = None) -> Self:
        """Adds `is_<flag kind>`, `is_toxic_inside`, `sg`, `sg_at`, its window and age, and the axes `use`, `food`."""
        from inventory.models import Flag, GlazeSubstance, Reading

        now = now or timezone.now()
        if stale_after_days is None:
            stale_after_days = Studio.current().sg_stale_after_days
        open_flags = Flag.objects.filter(fill=OuterRef("pk"), outcome="")
        toxic = GlazeSubstance.objects.filter(
            glaze=OuterRef("glaze"), substance__in=TOXIC, taken_back_at=None
        )
        latest = Reading.objects.filter(fill=OuterRef("pk"), taken_at__lte=now).order_by(
            "-taken_at", "-created_at"
        )
        return self.annotate(
            **{f"is_{kind}": Exists(open_flags.filter(kind=kind)) for kind in FLAG_KINDS},
            is_toxic_inside=Exists(toxic),
            sg=Subquery(
                latest.values("specific_gravity")[:1],
                output_field=Thousandths(max_digits=4, decimal_places=3),
            ),
            sg_at=Subquery(latest.values("taken_at")[:1]),
            sg_low=F("glaze__sg_low"),
            sg_high=F("glaze__sg_high"),
            stale_after_days=Value(stale_after_days),
            standing_at=Value(now, output_field=models.DateTimeField()),
        ).annotate(
            use=Case(
                When(Q(is_contaminated=True) | Q(is_wrong_label=True), then=Value("do_not_use")),
                When(
                    Q(is_dried_out=True)
                    | Q(is_settled_hard=True)
                    | Q(is_other=True)
                    | Q(sg__lt=F("sg_low"))
                    | Q(sg__gt=F("sg_high"))
                    | Q(level="empty"),
                    then=Value("ask"),
                ),
                default=Value("use"),
            ),
            food=Case(
                When(
                    Q(is_not_for_food=True) | Q(label="not_for_food") | Q(is_toxic_inside=True),
                    then=Value("keep_from_food"),
                ),
                When(glaze__origin="mixed", then=Value("mixed_here")),
                When(label="food_safe", then=Value("label_food_safe")),
                When(label="dinnerware_safe", then=Value("label_dinnerware_safe")),
                When(label="none", then=Value("label_none")),
                default=Value("not_read"),
            ),
            sg_is_stale=Case(
                When(
                    Q(sg_at__isnull=True) | Q(sg_at__lt=now - timedelta(days=stale_after_days)),
                    then=Value(True),
                ),
                default=Value(False),
            ),
        )


def standing_of(fill: Any) -> Standing:
    """The pure rule over the columns that `with_standing` read. AttributeError without them: nothing is guessed."""
    age = None if fill.sg_at is None else (fill.standing_at - fill.sg_at).total_seconds() / 86400
    return standing(
        FillFacts(
            contaminated=fill.is_contaminated,
            wrong_label=fill.is_wrong_label,
            dried_out=fill.is_dried_out,
            settled_hard=fill.is_settled_hard,
            other=fill.is_other,
            not_for_food_flag=fill.is_not_for_food,
            sg=None if fill.sg is None else Decimal(fill.sg),
            sg_age_days=age,
            sg_low=fill.sg_low,
            sg_high=fill.sg_high,
            stale_after_days=fill.stale_after_days,
            level=fill.level,
            origin=fill.glaze.origin,
            label=fill.label,
            toxic_inside=fill.is_toxic_inside,
        )
    )


class BucketQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        return self if may(person, "studio.see") else self.none()

    def on_the_shelf(self) -> Self:
        return self.filter(archived_at__isnull=True)

    def with_fill(self, now: datetime | None = None) -> Self:
        """Each bucket's open fill, with standing and glaze, in a constant number of queries (`bucket.fill`)."""
        from inventory.models import Fill

        fills = (
            Fill.objects.filter(ended_at__isnull=True).select_related("glaze", "bucket").with_standing(now)
        )
        return self.select_related("place__parent", "owner").prefetch_related(
            Prefetch("fills", queryset=fills)
        )

    def for_the_shelf(self, now: datetime | None = None) -> Self:
        """What a lid shows and what can be asked of the shelf, in the order of the walk.

        Adds of what is in each bucket `use`, `food`, `glaze`, `kind`, `label`, `cone_low`, `cone_high` (none for an
        empty one), and `is_low`, `is_stale`, `is_flagged`.
        """
        from inventory.models import Fill, Flag

        now = now or timezone.now()
        fills = Fill.objects.filter(bucket=OuterRef("pk"), ended_at__isnull=True)
        standing_now: Any = fills.with_standing(now)
        open_flags = Flag.objects.open().filter(fill__bucket=OuterRef("pk"), fill__ended_at__isnull=True)
        return (
            self.with_fill(now)
            .walking_order()
            .annotate(
                use=Subquery(standing_now.values("use")),
                food=Subquery(standing_now.values("food")),
                is_stale=Exists(standing_now.filter(sg_is_stale=True)),
                is_low=Exists(fills.low()),
                is_flagged=Exists(open_flags),
                glaze=Subquery(fills.values("glaze")),
                kind=Subquery(fills.values("glaze__kind")),
                origin=Subquery(fills.values("glaze__origin")),
                label=Subquery(fills.values("label")),
                cone_low=Subquery(fills.values("glaze__cone_low")),
                cone_high=Subquery(fills.values("glaze__cone_high")),
            )
        )

    def walking_order(self) -> Self:
        """By place in the order of the walk, then code; own jars last, which stand on no shelf."""
        return self.annotate(walk=Walk.now().rank("place", "owner")).order_by(*WALK)


class FlagQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        return self if may(person, "studio.see") else self.none()

    def open(self) -> Self:
        return self.filter(outcome="")

    def with_story(self) -> Self:
        """With everything that is told of a flag: who, notes, photos, and where it came from."""
        return self.select_related(
            "fill__bucket",
            "fill__glaze",
            "raised_by",
            "closed_by",
            "origin__fill__bucket",
            "through__source_fill__bucket",
        ).prefetch_related("notes__by", "photos__by")

    def open_first(self) -> Self:
        """`OPEN_FIRST` is the order: open ones, newest first, then the closed."""
        return self.annotate(is_closed=Case(When(outcome="", then=Value(0)), default=Value(1)))

    def never_lifted(self) -> Self:
        """Flags whose touch stays: only *mistaken* (and withdrawing before anybody acted) lifts it."""
        return self.exclude(outcome__in=["mistaken", "withdrawn"])

    def touching(self, fill: Any, at: Any) -> Self:
        """Flags that were true of `fill` at the moment `at` (values or expressions); an unknown moment is touched."""
        late = Coalesce(
            at, Value(datetime.max.replace(year=9998, tzinfo=UTC)), output_field=models.DateTimeField()
        )
        early = Coalesce(at, Value(datetime(1, 1, 2, tzinfo=UTC)), output_field=models.DateTimeField())
        return (
            self.never_lifted()
            .filter(fill=fill)
            .filter(
                Q(since__isnull=True) | Q(since__lte=late),
                Q(put_right_at__isnull=True) | Q(put_right_at__gte=early),
            )
        )


class ClassListQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """A teacher's own; all of them for whoever may change any."""
        if may(person, "class.change_any"):
            return self
        return self.filter(teacher=person.pk) if may(person, "class.make") else self.none()

    def open(self) -> Self:
        """`ClassList.is_open` as a query."""
        today = timezone.localdate()
        return self.filter(
            closed_at__isnull=True, teacher__is_active=True, starts_on__lte=today, ends_on__gte=today
        )

    def not_open(self) -> Self:
        today = timezone.localdate()
        closed = Q(closed_at__isnull=False) | Q(teacher__is_active=False)
        return self.filter(closed | Q(starts_on__gt=today) | Q(ends_on__lt=today))
