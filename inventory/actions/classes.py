"""Class lists: the buckets that a guest class may use, and what it used."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.stock import write_entry
from inventory.models import ChildFit, ClassEntry, ClassList, Fill, StockEntry
from inventory.models.classes import new_secret
from studio.actions import change, check, create, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require

LONGEST_DAYS = 366


def _its_teacher(by: Person, class_list: ClassList) -> None:
    require(by, "class.make")
    if class_list.teacher_id != by.pk and not may(by, "class.change_any"):
        raise NotAllowed(_("This is somebody else's class. Its teacher or a technician can change it."))


def _dates_fit(starts_on: Any, ends_on: Any) -> None:
    if starts_on and ends_on and (ends_on - starts_on).days > LONGEST_DAYS:
        raise Refused({"ends_on": _("A class list lasts a year at most. Make a new one then.")})


def unfit_for_children(fills: Iterable[Fill]) -> list[Fill]:
    """Those whose container was not read as naming them fit for children."""
    return [fill for fill in fills if fill.child_fit != ChildFit.YES]


def _children_may(fills: Iterable[Fill]) -> None:
    unfit = unfit_for_children(fills)
    if unfit:
        raise Refused(
            {
                "fills": _(
                    "For children only what its own container names fit for them. Not read so: %(fills)s. "
                    "Read the containers and note it on each bucket, or leave these out."
                )
                % {"fills": ", ".join(str(f) for f in unfit)}
            }
        )


@transaction.atomic
def create_class_list(*, by: Person, fills: Iterable[Fill] = (), **fields: Any) -> ClassList:
    require(by, "class.make")
    chosen = list(fills)
    _dates_fit(fields.get("starts_on"), fields.get("ends_on"))
    if fields.get("for_children"):
        _children_may(chosen)
    made = create(by=by, obj=ClassList(teacher=by, **fields), fields=list(fields))
    made.fills.set(chosen)
    return made


@transaction.atomic
def change_class_list(
    *,
    by: Person,
    obj: ClassList,
    values: dict[str, Any],
    fills: Iterable[Fill] | None = None,
    version: int | None = None,
) -> ClassList:
    _its_teacher(by, obj)
    chosen = list(obj.fills.select_related("glaze", "bucket") if fills is None else fills)
    _dates_fit(values.get("starts_on", obj.starts_on), values.get("ends_on", obj.ends_on))
    if values.get("for_children", obj.for_children):
        _children_may(chosen)
    before = sorted(str(f) for f in obj.fills.select_related("glaze", "bucket"))
    changed = change(by=by, obj=obj, values=values, version=version)
    if fills is not None:
        changed.fills.set(chosen)
        after = sorted(str(f) for f in chosen)
        if before != after:
            record_change(
                by=by,
                verb="chose the buckets",
                obj=changed,
                before={"buckets": before},
                after={"buckets": after},
            )
    return changed


@transaction.atomic
def close_class_list(*, by: Person, obj: ClassList) -> ClassList:
    """The address stops working at once."""
    _its_teacher(by, obj)
    touch(obj)
    obj.refresh_from_db()
    obj.closed_at = obj.closed_at or timezone.now()
    obj.save(update_fields=["closed_at"])
    record_change(by=by, verb="closed", obj=obj)
    return obj


@transaction.atomic
def new_address(*, by: Person, obj: ClassList) -> ClassList:
    """Another private address, when the old one went too far round. The old one stops working."""
    _its_teacher(by, obj)
    touch(obj)
    obj.refresh_from_db()
    obj.secret = new_secret()
    obj.save(update_fields=["secret"])
    record_change(by=by, verb="made a new address", obj=obj)
    return obj


@transaction.atomic
def add_class_entry(
    *,
    class_list: ClassList,
    fill: Fill,
    makers: int,
    pieces: int | None = None,
    volume_ml: Decimal | None = None,
    remark: str = "",
) -> ClassEntry:
    """One entry for many makers, from the class's own page without log-in. It names nobody."""
    if not class_list.is_open:
        raise Refused(_("This class list is not open. Ask the teacher for the address that is."))
    touch(fill)
    usable = (
        Fill.objects.in_use()
        .select_related("glaze", "bucket")
        .with_standing()
        .filter(pk=fill.pk, class_lists=class_list)
        .first()
    )
    if usable is None:
        raise Refused({"fill": _("This bucket is not on the list of the class.")})
    if class_list.for_children and unfit_for_children([usable]):
        raise Refused({"fill": _("This bucket is not one for children. Choose another.")})
    if usable.use == "do_not_use":
        raise Refused(
            {
                "fill": _(
                    "This bucket is not to be used now. Choose another, and tell a technician if you used it."
                )
            }
        )
    entry = ClassEntry(
        class_list=class_list, fill=usable, makers=makers, pieces=pieces, remark=remark.strip()
    )
    check(entry).save(force_insert=True)
    if volume_ml is not None:
        if volume_ml <= 0:
            raise Refused({"volume_ml": _("Give an amount above 0 mL.")})
        write_entry(
            by=class_list.teacher,
            fill=usable,
            entry=StockEntry(
                kind=StockEntry.Kind.TAKEN_OUT, volume_ml=-volume_ml, remark=class_list.name[:200]
            ),
            actor_name=class_list.name,
        )
    record_change(
        by=None,
        actor_name=class_list.name,
        verb="used by a class",
        obj=usable,
        after={"makers": makers, "pieces": pieces},
    )
    return entry
