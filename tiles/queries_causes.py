"""Reads about causes: trials of remedies that a person may see, and what they have told."""

from typing import Any, Self

from django.db import models
from django.db.models import Count, Exists, OuterRef

from tiles.calc.causes import Tried


class RemedyTrialQuerySet(models.QuerySet[Any]):
    def visible_to(self, person: Any) -> Self:
        """Those of tiles that the person may see; adds `sees_new`: whether the new tile may be named too."""
        from tiles.models import Tile

        seen: Any = Tile.objects.visible_to(person)
        rows: Any = self.annotate(sees_new=Exists(seen.filter(pk=OuterRef("new_tile"))))
        return rows.filter(Exists(seen.filter(pk=OuterRef("tile"))))

    def told(self, fault: str) -> dict[str, Tried]:
        """By cause, how many trials against this fault helped and how many did not; of rows `visible_to` somebody.

        A trial counts for whoever may see both of its tiles: else a figure would tell of a tile that is hidden. It
        counts as long as a look at the new one stands, and one that noted the fault on the other.
        """
        from tiles.models import Outcome, OutcomeFault

        looked = Exists(Outcome.objects.filter(tile=OuterRef("new_tile")))
        had_it = Exists(OutcomeFault.objects.filter(outcome__tile=OuterRef("tile"), kind=fault))
        said = self.filter(
            looked, had_it, fault=fault, dropped_at=None, helped__in=("yes", "no"), sees_new=True
        ).order_by()
        counts = {
            (code, helped): n
            for code, helped, n in said.values_list("cause", "helped").annotate(n=Count("pk"))
        }
        return {
            code: Tried(counts.get((code, "yes"), 0), counts.get((code, "no"), 0)) for code, _helped in counts
        }
