"""The SG round: a walk past every bucket in shelf order."""

import uuid
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.fills import add_reading
from inventory.actions.spread import queue_up
from inventory.calc.slurry import HIGHEST_SG, LOWEST_SG, SgError, specific_gravity_from
from inventory.models import Bucket, RoundStop, SgRound
from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


@transaction.atomic
def start_round(
    *, by: Person, cup_ml: Decimal = Decimal(100), cup_g: Decimal = Decimal(0), id: uuid.UUID | None = None
) -> SgRound:
    """A round past every fill on the shelf, in walking order. One round is open at a time."""
    require(by, "round.walk")
    queue_up()
    if SgRound.objects.filter(finished_at=None).exists():
        raise Refused(_("A round is going on already. Go on with it, or finish it first."))
    fills = [
        fill
        for bucket in Bucket.objects.on_the_shelf().filter(owner=None).with_fill().walking_order()
        if (fill := bucket.fill) is not None
    ]
    if not fills:
        raise Refused(_("There is nothing on the shelf to measure yet. Fill a bucket first."))
    made = SgRound(started_by=by, cup_ml=cup_ml, cup_g=cup_g)
    if id:
        made.id = id
    check(made).save(force_insert=True)
    RoundStop.objects.bulk_create(
        RoundStop(round=made, fill=fill, order=i) for i, fill in enumerate(fills, start=1)
    )
    record_change(
        by=by, verb="started", obj=made, after={"buckets": len(fills), "cup_ml": cup_ml, "cup_g": cup_g}
    )
    return made


def gravity_of_cup(sg_round: SgRound, gross_g: Decimal) -> Decimal:
    """SG from the full cup's weight: (gross - empty) / volume; Refused when that cannot be a slurry."""
    try:
        return specific_gravity_from(gross_g - sg_round.cup_g, sg_round.cup_ml)
    except SgError as error:
        figures = {
            "gross": gross_g,
            "cup": sg_round.cup_ml,
            "tare": sg_round.cup_g,
            "low": LOWEST_SG * sg_round.cup_ml + sg_round.cup_g,
            "high": HIGHEST_SG * sg_round.cup_ml + sg_round.cup_g,
        }
        raise Refused(
            {
                "gross_g": _(
                    "%(gross)s g cannot be right: this cup (%(cup)s mL, empty %(tare)s g) weighs between %(low)s "
                    "and %(high)s g when it is full. Weigh it again, or look whether it is the right cup."
                )
                % {name: f"{number.normalize():f}" for name, number in figures.items()}
            }
        ) from error


def _stop_to_do(sg_round: SgRound, stop: RoundStop) -> RoundStop:
    touch(sg_round)
    sg_round.refresh_from_db()
    if sg_round.finished_at:
        raise Refused(_("This round is finished. Start another."))
    stop = RoundStop.objects.select_related("fill__bucket", "fill__glaze").get(pk=stop.pk, round=sg_round)
    if stop.state == RoundStop.State.MEASURED:
        raise Refused(_("Somebody measured this bucket meanwhile. Go on with the next."))
    return stop


@transaction.atomic
def measure_stop(
    *,
    by: Person,
    sg_round: SgRound,
    stop: RoundStop,
    gross_g: Decimal | None = None,
    specific_gravity: Decimal | None = None,
    remark: str = "",
) -> RoundStop:
    """One bucket measured: the full cup's weight, or a specific gravity read otherwise."""
    require(by, "round.walk")
    stop = _stop_to_do(sg_round, stop)
    if (gross_g is None) == (specific_gravity is None):
        raise Refused(
            {"gross_g": _("Give the weight of the full cup, or the specific gravity; one of them.")}
        )
    if stop.fill.ended_at:
        raise Refused(_("What was in this bucket has ended meanwhile. Pass it over."))
    gravity = specific_gravity if gross_g is None else gravity_of_cup(sg_round, gross_g)
    assert gravity is not None
    stop.reading = add_reading(by=by, fill=stop.fill, specific_gravity=gravity, remark=remark)
    stop.state, stop.why = RoundStop.State.MEASURED, ""
    stop.save(update_fields=["reading", "state", "why"])
    _finish_when_done(by, sg_round)
    return stop


@transaction.atomic
def pass_stop(*, by: Person, sg_round: SgRound, stop: RoundStop, why: str = "") -> RoundStop:
    """Leave a bucket out of this round; it can still be measured until the round is finished."""
    require(by, "round.walk")
    stop = _stop_to_do(sg_round, stop)
    stop.state, stop.why = RoundStop.State.PASSED, why[:120]
    stop.save(update_fields=["state", "why"])
    return stop


@transaction.atomic
def finish_round(*, by: Person, sg_round: SgRound) -> SgRound:
    """End a round; what was not reached stays noted as not done."""
    require(by, "round.walk")
    touch(sg_round)
    sg_round.refresh_from_db()
    if sg_round.finished_at:
        return sg_round
    sg_round.finished_at = timezone.now()
    sg_round.save(update_fields=["finished_at"])
    left = sg_round.stops.exclude(state=RoundStop.State.MEASURED).count()
    record_change(by=by, verb="finished", obj=sg_round, after={"not measured": left})
    return sg_round


@transaction.atomic
def set_cup(*, by: Person, sg_round: SgRound, cup_ml: Decimal, cup_g: Decimal) -> SgRound:
    """Another cup, or the same one weighed again, from here on."""
    require(by, "round.walk")
    touch(sg_round)
    sg_round.refresh_from_db()
    sg_round.cup_ml, sg_round.cup_g = cup_ml, cup_g
    check(sg_round).save()
    record_change(by=by, verb="changed", obj=sg_round, after={"cup_ml": cup_ml, "cup_g": cup_g})
    return sg_round


def _finish_when_done(by: Person, sg_round: SgRound) -> None:
    """What was passed over can be returned to, so only a whole round ends by itself."""
    if not sg_round.stops.exclude(state=RoundStop.State.MEASURED).exists():
        finish_round(by=by, sg_round=sg_round)
