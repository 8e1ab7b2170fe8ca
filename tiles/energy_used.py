"""The energy of firings, what it cost, and the share of one thing in the kiln."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Count, IntegerField, OuterRef, Subquery, Sum
from django.db.models.functions import Coalesce

from studio.models import Studio
from tiles.calc.energy import Energy, climb_hours, energy
from tiles.logs import readings_of
from tiles.models import Piece, TileFiring


@dataclass(frozen=True, slots=True)
class Used:
    """`things` are the tiles and pieces in it, each counted as one whatever its size; `cost` has the ends too."""

    energy: Energy
    things: int
    price_per_kwh: float | None
    currency: str

    @property
    def cost(self) -> tuple[float | None, float | None, float | None] | None:
        """Middle, low and high; None without a price."""
        if self.price_per_kwh is None:
            return None
        used = self.energy
        middle, low, high = (
            None if kwh is None else kwh * self.price_per_kwh for kwh in (used.kwh, used.low, used.high)
        )
        return middle, low, high


def with_things(firings: Any) -> Any:
    """A queryset of firings with `thing_count`."""
    tiles = TileFiring.objects.filter(firing=OuterRef("pk")).order_by().values("firing")
    pieces = Piece.objects.filter(firing=OuterRef("pk"), taken_out_at=None).order_by().values("firing")
    zero: Any = 0
    return firings.annotate(
        thing_count=Coalesce(Subquery(tiles.annotate(n=Count("pk")).values("n"), IntegerField()), zero)
        + Coalesce(Subquery(pieces.annotate(n=Sum("count")).values("n"), IntegerField()), zero)
    )


def used(firing: Any, studio: Studio) -> Used | None:
    """Of one firing read `with_things` (kiln and log with it); None where neither meter nor power is known."""
    hours = None
    if firing.kwh_read is None and firing.kiln.power_kw is not None and (read := readings_of(firing)):
        hours = climb_hours(read.minutes, read.counted)
    found = energy(
        hours,
        None if firing.kiln.power_kw is None else float(firing.kiln.power_kw),
        firing.kiln.duty_percent,
        None if firing.kwh_read is None else float(firing.kwh_read),
    )
    if found is None:
        return None
    price = None if studio.price_per_kwh is None else float(studio.price_per_kwh)
    return Used(found, firing.thing_count, price, studio.currency)
