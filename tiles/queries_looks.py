"""Reads about looking: which photos wait to be sorted, and which tiles are to be looked at again."""

from datetime import date, timedelta
from typing import Any, Self

from django.db import models
from django.db.models import Case, DateField, Exists, F, IntegerField, Max, OuterRef, Q, Subquery, Value, When
from django.db.models.functions import Cast, TruncDate

from studio.roles import is_device, may
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.looks import WEEKS

# The person's own first, then the longest due. No column is null where a look is due.
MOST_DUE_FIRST = ("is_others", "due_on", "id")


def is_others(person: Any) -> Case:
    """0 for a tile that the person made, 1 for any other: the own ones come first."""
    return Case(When(maker=person.pk, then=Value(0)), default=Value(1), output_field=IntegerField())


class StandingLooks(models.Manager[Any]):
    """Looks that nobody has taken back. Django follows a tile to its looks through this manager too."""

    def get_queryset(self) -> models.QuerySet[Any]:
        return super().get_queryset().filter(taken_back_at=None)


class StandingFaults(models.Manager[Any]):
    """The faults of looks that nobody has taken back."""

    def get_queryset(self) -> models.QuerySet[Any]:
        return super().get_queryset().filter(outcome__taken_back_at=None)


class LoosePhotoQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Until it is sorted nobody knows whose tile it shows: its sender sees it, and who sees private tiles."""
        if may(person, "tile.see_private"):
            return self
        if not may(person, "studio.see") or is_device(person):
            return self.none()
        return self.filter(by=person)

    def unsorted(self) -> Self:
        """Those that are on no tile: never picked, or taken back."""
        return self.filter(Q(photo=None) | Q(photo__archived_at__isnull=False), archived_at=None)


class LooksDue(models.QuerySet[Any]):
    """To be mixed into the tiles' queryset."""

    def with_look_due(self, person: Any, today: date) -> Self:
        """Adds `out_on`, `last_look_on`, `due_on`, `weeks` and `is_others`; the rule is `calc.looks.look_due`.

        Counted from the last glaze firing; `due_on` is null where no look is due, and where the tile is lost, broken
        or in the fire again.
        """
        from tiles.models import Outcome, TileFiring

        here = TileFiring.objects.filter(tile=OuterRef("pk")).order_by()
        melted = here.filter(firing__kind__in=GLAZE_FIRINGS, firing__state="unloaded")
        out = melted.values("tile").annotate(at=Max("firing__unloaded_at")).values("at")
        looks = Outcome.objects.filter(tile=OuterRef("pk")).order_by().values("tile")
        rows: Any = self.annotate(
            out_on=TruncDate(Subquery(out)),
            last_look_on=Subquery(looks.annotate(on=Max("looked_on")).values("on")),
            is_others=is_others(person),
        )
        here_again = Exists(here.filter(firing__state__in=("firing", "cooling")))
        gone = Q(state__in=("lost", "broken")) | Q(here_again)
        due, since = [When(gone, then=Value(None))], [When(gone, then=Value(None))]
        for weeks in sorted(WEEKS, reverse=True):
            passed = Q(out_on__lte=today - timedelta(weeks=weeks))
            mark = Cast(F("out_on") + timedelta(weeks=weeks), DateField())
            unseen = Q(last_look_on=None) | Q(last_look_on__lt=mark)
            due += [When(passed & unseen, then=mark), When(passed, then=Value(None))]
            since += [When(passed & unseen, then=Value(weeks)), When(passed, then=Value(None))]
        return rows.annotate(
            due_on=Case(*due, default=Value(None), output_field=DateField()),
            weeks=Case(*since, default=Value(None), output_field=IntegerField()),
        )

    def with_waiting(self) -> Self:
        """Adds `last_firing` and its `last_number`: the last that melted glaze; `is_waiting`: not looked at since."""
        from tiles.models import Outcome, TileFiring

        out_of = TileFiring.objects.filter(tile=OuterRef("pk"), firing__state="unloaded")
        melted = out_of.exclude(firing__kind="bisque").order_by("-firing__unloaded_at", "-firing__number")
        seen = Outcome.objects.filter(tile=OuterRef("pk"), firing=OuterRef("last_firing"))
        waiting = Q(state__in=("fired", "recorded"), last_firing__isnull=False) & ~Exists(seen)
        rows: Any = self.annotate(
            last_firing=Subquery(melted.values("firing")[:1]),
            last_number=Subquery(melted.values("firing__number")[:1]),
        )
        return rows.annotate(is_waiting=Case(When(waiting, then=Value(True)), default=Value(False)))

    def look_is_due(self, person: Any, today: date) -> Self:
        """Those of `with_look_due` that are due, to be ordered by `MOST_DUE_FIRST`."""
        return self.with_look_due(person, today).filter(due_on__isnull=False)
