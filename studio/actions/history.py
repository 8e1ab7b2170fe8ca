"""The tools of every write: the history row, the version step, the validation."""

import uuid
from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Any, TypeVar

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.errors import Refused, VersionConflict
from studio.models import Aggregate, Change, Studio

M = TypeVar("M", bound=models.Model)
A = TypeVar("A", bound=Aggregate | Studio)


def plain(value: Any) -> Any:
    """A value as it stands in a history row: text, number, list, or None."""
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, Decimal | uuid.UUID):
        return str(value)
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, models.Model):
        return str(value)
    if isinstance(value, dict):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(v) for v in value]
    return str(value)


def record_change(
    *,
    by: Any,
    verb: str,
    obj: models.Model,
    before: dict | None = None,
    after: dict | None = None,
    reason: str = "",
    batch: uuid.UUID | None = None,
    actor_name: str = "",
) -> Change:
    """Write the history row of one write. `by` None means the studio's own command line, or `actor_name`: a class."""
    return Change.objects.create(
        actor=None if actor_name else by,
        actor_name=actor_name or (by.name if by is not None else "command line"),
        via=getattr(by, "acting_via", ""),
        verb=verb,
        kind=obj._meta.label_lower,
        object_id=obj.pk if isinstance(obj.pk, uuid.UUID) else uuid.UUID(int=obj.pk),
        object_text=str(obj)[:200],
        before=plain(before or {}),
        after=plain(after or {}),
        reason=reason,
        batch=batch,
    )


def touch(obj: A, expected: int | None = None) -> A:
    """Raise the aggregate's version by one conditional UPDATE.

    With `expected`, only when the stored version still is `expected`: else VersionConflict with the record as it
    is now. Call it first inside the transaction of the write: the row lock makes writers of one record queue.
    """
    key: Any = obj.pk
    rows = type(obj)._base_manager.filter(pk=key)
    if expected is not None:
        rows = rows.filter(version=expected)
    if rows.update(version=F("version") + 1) == 0:
        fresh = type(obj)._base_manager.get(pk=key)
        raise VersionConflict(fresh, yours=expected or 0)
    obj.version = type(obj)._base_manager.values_list("version", flat=True).get(pk=key)
    return obj


def check(obj: M, *, exclude: Iterable[str] = ()) -> M:
    """Model validation, with the sentences under their fields' names (Refused)."""
    try:
        obj.full_clean(exclude=set(exclude))
    except ValidationError as error:
        raise Refused.from_validation(error) from error
    return obj


def create(
    *, by: Any, obj: M, reason: str = "", fields: Iterable[str] = (), batch: uuid.UUID | None = None
) -> M:
    """Validate, insert and write the history row of a new record."""
    check(obj)
    obj.save(force_insert=True)
    record_change(
        by=by, verb="created", obj=obj, after={f: getattr(obj, f) for f in fields}, reason=reason, batch=batch
    )
    return obj


def change(
    *,
    by: Any,
    obj: A,
    values: dict[str, Any],
    version: int | None = None,
    reason: str = "",
    verb: str = "changed",
) -> A:
    """Set `values` on an aggregate: version step, validation, save, one history row of what differs.

    Nothing different and nothing said is no news: then no row is written.
    """
    touch(obj, version)
    # The caller's copy may be older than the row that was just locked.
    obj.refresh_from_db()
    before = {f: getattr(obj, f) for f in values}
    for field, value in values.items():
        setattr(obj, field, value)
    check(obj)
    obj.save()
    # Compared as values: 1.45 and 1.450 are one gravity.
    differs = [f for f in values if before[f] != getattr(obj, f)]
    if not differs and not reason:
        return obj
    record_change(
        by=by,
        verb=verb,
        obj=obj,
        before={f: before[f] for f in differs},
        after={f: getattr(obj, f) for f in differs},
        reason=reason,
    )
    return obj


def put_away(*, by: Any, obj: Any, reason: str = "") -> Any:
    """Archive a record that `touch` has locked; it leaves the lists, and whatever points at it keeps it."""
    obj.refresh_from_db()
    if obj.archived_at:
        raise Refused(_("This has been put away already."))
    obj.archived_at = timezone.now()
    check(obj).save(update_fields=["archived_at"])
    record_change(by=by, verb="archived", obj=obj, reason=reason)
    return obj
