"""Class lists: the buckets that a guest class may use, and what it used."""

import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.stock import above_nothing, write_entry
from inventory.models import ClassEntry, ClassList, Fill, StockEntry
from inventory.models.classes import new_secret
from studio.actions import change, check, create, record_change, touch
from studio.actions.moments import planned
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, may, require

LONGEST_DAYS = 366
ENTRIES_A_DAY = 200
MOST_ML = 20_000


def _its_teacher(by: Person, class_list: ClassList) -> None:
    require(by, "class.make")
    if class_list.teacher_id != by.pk and not may(by, "class.change_any"):
        raise NotAllowed(_("This is somebody else's class. Its teacher or a technician can change it."))


def _not_closed(class_list: ClassList) -> None:
    if class_list.closed_at:
        raise Refused(_("This class list was closed, and stays so. Make a new one."))


def _dates_fit(starts_on: Any, ends_on: Any) -> None:
    planned("starts_on", starts_on)
    if starts_on and ends_on and (ends_on - starts_on).days > LONGEST_DAYS:
        raise Refused({"ends_on": _("A class list lasts a year at most. Make a new one then.")})


def _children_may(fills: Iterable[Fill]) -> None:
    unfit = [fill for fill in fills if not fill.is_for_children]
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


def _can_be_chosen(teacher: Person, fills: Iterable[Fill]) -> None:
    ids = [fill.pk for fill in fills]
    there = set(Fill.objects.for_a_class_of(teacher).filter(pk__in=ids).values_list("pk", flat=True))
    gone = [str(fill) for fill in fills if fill.pk not in there]
    if gone:
        raise Refused(
            {
                "fills": _("Emptied, put away or somebody else's own jar: %(fills)s. Leave these out.")
                % {"fills": ", ".join(gone)}
            }
        )


@transaction.atomic
def create_class_list(
    *, by: Person, id: uuid.UUID | None = None, fills: Iterable[Fill] = (), **fields: Any
) -> ClassList:
    require(by, "class.make")
    chosen = list(fills)
    _dates_fit(fields.get("starts_on") or timezone.localdate(), fields.get("ends_on"))
    _can_be_chosen(by, chosen)
    if fields.get("for_children"):
        _children_may(chosen)
    made = ClassList(teacher=by, **fields)
    if id:
        made.id = id
    create(by=by, obj=made, fields=list(fields))
    made.fills.set(chosen)
    if chosen:
        _record_choice(by, made, [], chosen)
    return made


def _record_choice(by: Person, class_list: ClassList, before: list[Fill], after: list[Fill]) -> None:
    record_change(
        by=by,
        verb="chose the buckets",
        obj=class_list,
        before={"buckets": sorted(str(f) for f in before)},
        after={"buckets": sorted(str(f) for f in after)},
    )


@transaction.atomic
def change_class_list(
    *,
    by: Person,
    obj: ClassList,
    values: dict[str, Any],
    fills: Iterable[Fill] | None = None,
    version: int | None = None,
) -> ClassList:
    """Change its name, dates or buckets. What has ended since it was chosen drops out with the next choice."""
    _its_teacher(by, obj)
    changed = change(by=by, obj=obj, values=values, version=version)
    _not_closed(changed)
    _dates_fit(changed.starts_on, changed.ends_on)
    before = list(changed.fills.select_related("glaze", "bucket"))
    chosen = before if fills is None else list(fills)
    _can_be_chosen(changed.teacher, [fill for fill in chosen if fill not in before])
    if changed.for_children:
        _children_may(fill for fill in chosen if fill.ended_at is None)
    if set(chosen) != set(before):
        changed.fills.set(chosen)
        _record_choice(by, changed, before, chosen)
    return changed


@transaction.atomic
def close_class_list(*, by: Person, obj: ClassList, version: int | None = None) -> ClassList:
    """The address stops working at once."""
    _its_teacher(by, obj)
    touch(obj, version)
    obj.refresh_from_db()
    if obj.closed_at is None:
        obj.closed_at = timezone.now()
        obj.save(update_fields=["closed_at"])
        record_change(by=by, verb="closed", obj=obj)
    return obj


@transaction.atomic
def new_address(*, by: Person, obj: ClassList, version: int | None = None) -> ClassList:
    """Another private address, when the old one went too far round. The old one stops working."""
    _its_teacher(by, obj)
    touch(obj, version)
    obj.refresh_from_db()
    _not_closed(obj)
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
    id: uuid.UUID | None = None,
) -> ClassEntry:
    """One entry for many makers, from the class's own page without log-in. It names nobody.

    With the `id` of an entry that was made already nothing is added: a page sent twice counts once.
    """
    # The lock under which the list cannot close or fill up meanwhile. Not `touch`: that is for who edits the list.
    class_list = ClassList.objects.select_for_update().get(pk=class_list.pk)
    if not class_list.is_open:
        raise Refused(_("This class list is not open. Ask the teacher for the address that is."))
    made = class_list.entries.filter(pk=id).first() if id else None
    if made is not None:
        return made
    today = timezone.localtime().replace(hour=0, minute=0, second=0, microsecond=0)
    if class_list.entries.filter(created_at__gte=today).count() >= ENTRIES_A_DAY:
        raise Refused(
            _("There are %(most)s entries of today already, and a day takes no more. Tell the teacher.")
            % {"most": ENTRIES_A_DAY}
        )
    usable = _usable(class_list, fill)
    entry = ClassEntry(
        class_list=class_list, fill=usable, makers=makers, pieces=pieces, remark=remark.strip()
    )
    if id:
        entry.id = id
    if volume_ml is not None:
        entry.stock_entry = _taken_out(class_list, usable, volume_ml)
    check(entry).save(force_insert=True)
    record_change(
        by=None,
        actor_name=class_list.name,
        verb="used by a class",
        obj=usable,
        after={"makers": makers, "pieces": pieces},
    )
    return entry


def barred_by(class_list: ClassList, fill: Any) -> str:
    """What keeps the class from a fill of its list, read `with_standing`: 'gone', 'unfit', 'do_not_use'; '' nothing."""
    if fill.ended_at is not None or fill.bucket.archived_at is not None:
        return "gone"
    if class_list.for_children and not fill.is_for_children:
        return "unfit"
    return "do_not_use" if fill.use == "do_not_use" else ""


def _usable(class_list: ClassList, fill: Fill) -> Fill:
    touch(fill)
    listed = Fill.objects.filter(pk=fill.pk, class_lists=class_list).select_related("glaze", "bucket")
    usable: Any = listed.with_standing().first()
    barred = "gone" if usable is None else barred_by(class_list, usable)
    if barred == "gone":
        raise Refused(
            {"fill": _("This bucket is not on the list of the class, or was emptied. Choose another.")}
        )
    if barred == "unfit":
        raise Refused({"fill": _("This bucket is not one for children. Choose another.")})
    if barred == "do_not_use":
        raise Refused(
            {
                "fill": _(
                    "This bucket is not to be used now. Choose another, and tell a technician if you used it."
                )
            }
        )
    return usable


def _taken_out(class_list: ClassList, fill: Fill, volume_ml: Decimal) -> StockEntry:
    most = fill.bucket.capacity_ml or MOST_ML
    above_nothing("volume_ml", volume_ml)
    if volume_ml > most:
        raise Refused(
            {"volume_ml": _("That is more than the bucket holds (%(most)s mL). Look again.") % {"most": most}}
        )
    entry = StockEntry(kind=StockEntry.Kind.TAKEN_OUT, volume_ml=-volume_ml, remark=class_list.name[:200])
    return write_entry(by=class_list.teacher, fill=fill, entry=entry, actor_name=class_list.name)
