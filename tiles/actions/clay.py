"""Writes about clay bodies and kilns."""

import uuid
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import change, create, put_away, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.models import ClayBody, Kiln


def _absorption_possible(percent: Decimal | str | None) -> None:
    if percent is not None and not 0 <= Decimal(percent) <= 40:
        raise Refused({"absorption_percent": _("Absorption lies between 0 and 40 %.")})


@transaction.atomic
def create_body(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> ClayBody:
    require(by, "body.change")
    _absorption_possible(fields.get("absorption_percent"))
    return create(by=by, obj=ClayBody(**({"id": id} if id else {}), **fields), fields=fields)


@transaction.atomic
def change_body(*, by: Person, obj: ClayBody, values: dict[str, Any], version: int | None = None) -> ClayBody:
    require(by, "body.change")
    _absorption_possible(values.get("absorption_percent"))
    return change(by=by, obj=obj, values=values, version=version)


def _positions_fit(positions: Any) -> None:
    fits = isinstance(positions, list) and 1 <= len(positions) <= 24
    if (
        not fits
        or len(set(positions)) != len(positions)
        or not all(isinstance(p, str) and 0 < len(p) <= 40 for p in positions)
    ):
        raise Refused({"positions": _("Name 1 to 24 positions, each once, such as top, middle, bottom.")})


@transaction.atomic
def create_kiln(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Kiln:
    require(by, "kiln.change")
    kiln = Kiln(**({"id": id} if id else {}), **fields)
    _positions_fit(kiln.positions)
    return create(by=by, obj=kiln, fields=fields)


@transaction.atomic
def change_kiln(*, by: Person, obj: Kiln, values: dict[str, Any], version: int | None = None) -> Kiln:
    require(by, "kiln.change")
    if "positions" in values:
        _positions_fit(values["positions"])
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def archive(
    *, by: Person, obj: ClayBody | Kiln, version: int | None = None, reason: str = ""
) -> ClayBody | Kiln:
    """Put a clay body or kiln away. Tiles and firings keep it; a kiln that still has a firing to do stays."""
    require(by, {ClayBody: "body.change", Kiln: "kiln.change"}[type(obj)])
    touch(obj, version)
    if isinstance(obj, Kiln):
        going = obj.firings.exclude(state__in=OUT_OF_THE_KILN).first()
        if going:
            raise Refused(
                _("%(firing)s is %(state)s in this kiln. Finish it first, or move it to another kiln.")
                % {"firing": going, "state": going.get_state_display()}
            )
    return put_away(by=by, obj=obj, reason=reason)
