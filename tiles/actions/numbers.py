"""Tile numbers: reserved in runs when the tiles are made, never reused."""

import re
import uuid
from datetime import date
from typing import Any

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from studio.actions import check, create, record_change
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.tiles import made_by_now, not_private_by_device
from tiles.models import ClayBody, NumberRun, NumberSeries, Tile

MOST_AT_ONCE = 200
ATTEMPTS = 3


def _lock_series(prefix: str) -> NumberSeries:
    NumberSeries.objects.get_or_create(prefix=prefix)
    return NumberSeries.objects.select_for_update().get(prefix=prefix)


def _free_numbers(prefix: str, start: int, count: int) -> list[int]:
    """The next `count` numbers from `start` that no tile carries: a studio keeps its old tiles' numbers."""
    taken = {
        int(text[len(prefix) :])
        for text in Tile.objects.filter(number__istartswith=prefix).values_list("number", flat=True)
        if re.fullmatch(r"[0-9]{1,9}", text[len(prefix) :])
    }
    free: list[int] = []
    candidate = start
    while len(free) < count:
        if candidate not in taken:
            free.append(candidate)
        candidate += 1
    return free


def _next_run(by: Person, prefix: str, count: int, device: str, made: dict[str, Any]) -> list[Tile]:
    series = _lock_series(prefix)
    numbers = _free_numbers(series.prefix, series.next_number, count)
    run = NumberRun(prefix=series.prefix, first=numbers[0], last=numbers[-1], device=device, reserved_by=by)
    check(run).save(force_insert=True)
    tiles = [Tile(number=f"{series.prefix}{n}", run=run, **made) for n in numbers]
    for tile in tiles:
        tile.full_clean(validate_unique=False, validate_constraints=False)
    Tile.objects.bulk_create(tiles)
    NumberSeries.objects.filter(pk=series.pk).update(next_number=numbers[-1] + 1)
    return tiles


@transaction.atomic
def reserve_numbers(
    *,
    by: Person,
    count: int,
    body: ClayBody | None = None,
    made_on: date | None = None,
    form: str = "",
    prefix: str = "",
    device: str = "",
    maker: Person | None = None,
) -> list[Tile]:
    """`count` blank tiles with the next free numbers, in one run. A device holds its run for work without network.

    Whoever may change any tile may name another maker.
    """
    require(by, "tile.log")
    maker = maker or by
    if maker.pk != by.pk:
        require(by, "tile.change_any")
    if not 1 <= count <= MOST_AT_ONCE:
        raise Refused({"count": _("Reserve from 1 to %(most)s numbers at a time.") % {"most": MOST_AT_ONCE}})
    if not re.fullmatch(r"[A-Za-z][A-Za-z._-]{0,7}|", prefix):
        raise Refused(
            {"prefix": _("A prefix is up to 8 letters, with - . or _ after them; the number follows it.")}
        )
    made_by_now(made_on)
    made = {"body": body, "form": form, "made_on": made_on, "maker": maker}
    for _attempt in range(ATTEMPTS):
        try:
            with transaction.atomic():
                tiles = _next_run(by, prefix.upper(), count, device, made)
            break
        except IntegrityError:  # somebody wrote one of these numbers on a tile in the same moment
            continue
    else:
        raise Refused(_("Numbers are being given out just now. Try again in a moment."))
    batch = uuid.uuid4()
    for tile in tiles:
        record_change(
            by=by, verb="created", obj=tile, after={"number": tile.number, "body": body}, batch=batch
        )
    return tiles


@transaction.atomic
def add_tile(*, by: Person, number: str, id: uuid.UUID | None = None, **fields: Any) -> Tile:
    """A tile by the number that is already written on it."""
    require(by, "tile.log")
    not_private_by_device(by, fields.get("visibility", ""))
    made_by_now(fields.get("made_on"))
    tile = Tile(**({"id": id} if id else {}), number=number.strip(), maker=by, **fields)
    taken = Refused({"number": str(Tile._meta.constraints[0].violation_error_message)})
    if Tile.objects.filter(number__iexact=tile.number).exists():
        raise taken
    try:
        with transaction.atomic():
            return create(by=by, obj=tile, fields=["number", *fields])
    except IntegrityError as error:  # somebody wrote the same number in the same moment
        raise taken from error


def next_number(*, by: Person, body: ClayBody | None = None) -> Tile:
    """One new number, to be written on a bare back."""
    return reserve_numbers(by=by, count=1, body=body)[0]
