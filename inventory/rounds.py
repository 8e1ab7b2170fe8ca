"""Reads of an SG round: which bucket is next, and what each measured one asks for."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from inventory.advice import advice
from inventory.models import RoundStop, SgRound
from inventory.usage import volume_at
from studio.models import Person


@dataclass(frozen=True)
class Answered:
    """A stop with what its reading asks for: `side`, and where it can be said `water_ml` to the window's `middle`."""

    stop: RoundStop
    side: str = ""
    water_ml: Decimal | None = None
    middle: Decimal | None = None
    volume_ml: Decimal | None = None

    @property
    def water_to_add_ml(self) -> Decimal | None:
        """Below 0 is water to take off; None where nothing can be said or nothing is to be done."""
        return -self.water_ml if self.water_ml is not None and self.side == "thin" else self.water_ml


def open_round() -> SgRound | None:
    return SgRound.objects.filter(finished_at=None).select_related("started_by").first()


def last_cup(person: Person) -> dict[str, Any]:
    """The measuring cup of the person's last round, for the next."""
    last = SgRound.objects.filter(started_by=person).first()
    return {} if last is None else {"cup_ml": last.cup_ml, "cup_g": last.cup_g}


def stops_of(sg_round: SgRound) -> list[RoundStop]:
    """In walking order, with everything that a page or the API reads of them."""
    stops = sg_round.stops.select_related("fill__bucket__place__parent", "fill__glaze", "reading")
    return list(stops.prefetch_related("fill__stock_entries"))


def answered(stop: RoundStop) -> Answered:
    """Reckoned with the volume that was known when the bucket was measured."""
    if stop.reading is None:
        return Answered(stop)
    volume = volume_at(stop.fill, stop.reading.taken_at)
    return Answered(stop, **advice(stop.fill.glaze, stop.reading.specific_gravity, volume))


def next_stop(stops: list[RoundStop], after: int = 0) -> RoundStop | None:
    """The first bucket still to do beyond `after`, then from the beginning; None when all were reached."""
    waiting = [stop for stop in stops if stop.state == RoundStop.State.TO_DO]
    return next((stop for stop in waiting if stop.order > after), waiting[0] if waiting else None)
