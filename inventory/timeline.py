"""What was done to a fill, newest first: stock entries and treatments in one line of time."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from inventory.models import Fill, StockEntry, Treatment
from studio import units

LONGEST = 20


@dataclass(frozen=True)
class Event:
    at: datetime
    written: datetime
    what: str
    details: list[str]
    bucket: Any
    by: str
    remark: str
    asks_for_a_look: bool = False


def time_line(fill: Fill, longest: int = LONGEST) -> list[Event]:
    """The newest events of a fill."""
    entries = fill.stock_entries.select_related("by", "source_fill__bucket", "pair__fill__bucket")[:longest]
    treatments = fill.treatments.select_related("by")[:longest]
    events = [*map(_of_stock, entries), *map(_of_treatment, treatments)]
    return sorted(events, key=lambda event: (event.at, event.written), reverse=True)[:longest]


def _of_stock(entry: StockEntry) -> Event:
    elsewhere = entry.source_fill or (entry.pair.fill if entry.pair else None)
    is_level = entry.kind in StockEntry.MEASURES
    seen_only = is_level and entry.level
    details = [
        str(entry.get_level_display()) if entry.level else "",
        "" if entry.volume_ml is None or seen_only else units.volume(abs(entry.volume_ml)),
        _("%(depth)s mm by dipstick") % {"depth": entry.depth_mm} if entry.depth_mm is not None else "",
        _("%(gross)s g with the bucket") % {"gross": entry.gross_g} if entry.gross_g is not None else "",
        entry.lot,
    ]
    if not is_level and entry.volume_ml is None:
        details.append(_("how much was not measured"))
    return Event(
        entry.at,
        entry.created_at,
        str(entry.get_kind_display()),
        [text for text in details if text],
        elsewhere and elsewhere.bucket,
        entry.by.name,
        entry.remark,
        entry.asks_for_a_look,
    )


def _of_treatment(treatment: Treatment) -> Event:
    details = [
        treatment.material,
        f"{treatment.amount_g.normalize():f} g" if treatment.amount_g is not None else "",
        units.volume(treatment.amount_ml) if treatment.amount_ml is not None else "",
        str(treatment.get_tool_display()),
        _("mesh %(mesh)s") % {"mesh": treatment.mesh} if treatment.mesh else "",
    ]
    return Event(
        treatment.at,
        treatment.created_at,
        str(treatment.get_kind_display()),
        [text for text in details if text],
        None,
        treatment.by.name,
        treatment.remark,
    )
