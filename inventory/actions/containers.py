"""What containers say when the contents of two come together: a claim holds where both make it, a warning always."""

from typing import Any

from django.utils.translation import gettext as _

from inventory.actions.flags import raise_flag
from inventory.models import ChildFit, Fill, Flag, Label, StockEntry
from studio.actions import change
from studio.models import Person

# What a container prints, in the fields that are read together.
READ = {"label": ("label", "label_condition"), "child_fit": ("child_fit",)}
WARNINGS = {"label": Label.NOT_FOR_FOOD, "child_fit": ChildFit.NO}


def topped_up(*, by: Person, fill: Fill, lot: str) -> None:
    """More went in from a container that nobody read, unless it is of the lot that was read."""
    if not lot.strip() or lot.strip().casefold() != fill.lot.strip().casefold():
        _together(by, fill, None, reason=_("Topped up from a container that was not read."))


def added_to(*, by: Person, fill: Fill) -> None:
    """Something else went in: that its container names it fit for children does not speak of that."""
    if fill.child_fit == ChildFit.YES:
        values = {"child_fit": "", "child_fit_read_by": None, "child_fit_read_on": None}
        change(by=by, obj=fill, values=values, reason=_("Something was added to it."))


def poured(*, by: Person, entry: StockEntry) -> None:
    """A transfer: what only one of the two containers says is no longer known of the target, but for its warnings."""
    source: Any = entry.source_fill
    if source.label == Label.NOT_FOR_FOOD:
        warn(by=by, entry=entry)
    _together(by, entry.fill, source, reason=_("Poured together."))


def warn(*, by: Person, entry: StockEntry) -> None:
    """Flag what a transfer brought out of a container that says "not for food", from that moment on."""
    if entry.fill.label == Label.NOT_FOR_FOOD:
        return
    source: Any = entry.source_fill
    note = _("Poured in from bucket %(code)s, whose label says “not for food”.") % {
        "code": source.bucket.code
    }
    flag = raise_flag(by=by, fill=entry.fill, kind=Flag.Kind.NOT_FOR_FOOD, note=note, since=entry.at)
    if flag.through_id is None:
        flag.through = entry
        flag.save(update_fields=["through"])


def _together(by: Person, fill: Fill, other: Fill | None, *, reason: str) -> None:
    values: dict[str, Any] = {}
    for field, together in READ.items():
        mine = [getattr(fill, name) for name in together]
        theirs = [getattr(other, name, "") for name in together]
        if mine == theirs or mine[0] == WARNINGS[field]:
            continue
        values |= dict.fromkeys(together, "") | {f"{field}_read_by": None, f"{field}_read_on": None}
        if field == "child_fit" and theirs == [ChildFit.NO]:
            # Of food a flag says so, which also knows since when.
            values |= {name: getattr(other, name) for name in values if name.startswith(field)}
    if any(getattr(fill, name) != value for name, value in values.items()):
        change(by=by, obj=fill, values=values, reason=reason)
