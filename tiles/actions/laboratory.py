"""Writes about laboratory reports: written down, changed, withdrawn with a reason; never deleted."""

import uuid
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio import papers
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.calc.leach_limits import METALS, categories, standards
from tiles.laboratory_sentences import CATEGORIES, STANDARDS
from tiles.models import LabLayer, LabReport, LabValue, Tile

PARTS = ("layers", "figures")
MOST_PIECES, MOST_LAYERS = 100, 12


def create_report(
    *,
    by: Person,
    layers: Iterable[Mapping[str, Any]] = (),
    figures: Iterable[Mapping[str, Any]] = (),
    file: Any = None,
    id: uuid.UUID | None = None,
    **fields: Any,
) -> LabReport:
    """Write a report down. `layers`: {glaze, lot, area} from the clay outwards; `figures`: {piece, metal, amount,
    is_below, unit}. Of a tile, what is not said of layers, body, cone and form is taken from it.
    """
    require(by, "laboratory.note")
    with _kept(file) as kept, transaction.atomic():
        report = LabReport(by=by, **({"id": id} if id else {}), **fields, **kept)
        stack = list(layers) or _layers_of(report.tile)
        if report.tile is not None:
            report.body = report.body or report.tile.body
            report.cone = report.cone or report.tile.cone
            report.form = report.form or report.tile.form
        _judgeable(report)
        check(report).save(force_insert=True)
        after = {**fields, **_set_parts(report, {"layers": stack, "figures": list(figures)})}
        if not report.values.exists():
            raise Refused({"figures": _("Give at least one figure, such as lead of piece 1.")})
        record_change(by=by, verb="created", obj=report, after=after | {"file": report.file_name})
    return report


def change_report(
    *, by: Person, obj: LabReport, values: dict[str, Any], version: int | None = None
) -> LabReport:
    """Correct what was written down. `layers`, `figures` and `file`, where given, take the place of what stood."""
    require(by, "laboratory.note")
    values = dict(values)
    with _kept(values.pop("file", None)) as kept, transaction.atomic():
        touch(obj, version)
        obj.refresh_from_db()
        _still_stands(obj)
        parts = {name: list(values.pop(name)) for name in PARTS if name in values}
        values |= kept
        before = {name: getattr(obj, name) for name in values} | {n: _said(obj)[n] for n in parts}
        for name, value in values.items():
            setattr(obj, name, value)
        _judgeable(obj)
        check(obj).save()
        after = {name: getattr(obj, name) for name in values} | _set_parts(obj, parts)
        # A new scan may be called as the old one was: then the key alone differs. By it the old one is still found.
        differs = [name for name in after if before[name] != after[name] or (name == "file_name" and kept)]
        if differs:
            was, now = {n: before[n] for n in differs}, {n: after[n] for n in differs}
            record_change(by=by, verb="changed", obj=obj, before=was, after=now)
    return obj


@transaction.atomic
def withdraw_report(*, by: Person, obj: LabReport, reason: str, version: int | None = None) -> LabReport:
    """It was written down by mistake, or the laboratory took it back: it counts no more, and stays readable."""
    require(by, "laboratory.note")
    if not reason.strip():
        raise Refused({"reason": _("Say why it is withdrawn: somebody may have relied on it.")})
    touch(obj, version)
    obj.refresh_from_db()
    _still_stands(obj)
    obj.withdrawn_at = timezone.now()
    check(obj).save(update_fields=["withdrawn_at"])
    record_change(by=by, verb="withdrew", obj=obj, reason=reason.strip())
    return obj


@contextmanager
def _kept(file: Any) -> Iterator[dict[str, str]]:
    """The columns of a sent file, which is forgotten again if the block fails."""
    if file is None:
        yield {}
        return
    paper = papers.read_paper(file)
    key = papers.store(paper)
    try:
        yield {"file_key": key, "file_name": paper.name}
    except BaseException:
        papers.forget(key)
        raise


def _still_stands(report: LabReport) -> None:
    if report.withdrawn_at:
        raise Refused(_("This report was withdrawn. Write it down anew if it holds after all."))


def _judgeable(report: LabReport) -> None:
    if report.standard not in standards():
        known = ", ".join(standards())
        raise Refused({"standard": _("Choose one of these standards: %(known)s.") % {"known": known}})
    if report.category not in categories(report.standard):
        own = "; ".join(str(CATEGORIES[code]) for code in categories(report.standard))
        said = _("%(standard)s has no limit for this kind of ware. It has: %(own)s.")
        raise Refused({"category": said % {"standard": STANDARDS[report.standard], "own": own}})
    happened("tested_on", report.tested_on, _("Give the day that the report names."))


def _layers_of(tile: Tile | None) -> list[dict[str, Any]]:
    """The tile's own stack with the lots of its buckets; wax burns out."""
    if tile is None:
        return []
    rows = tile.layers.exclude(glaze__kind="wax").select_related("glaze", "fill").order_by("position")
    return [{"glaze": row.glaze, "lot": row.fill.lot if row.fill else "", "area": row.area} for row in rows]


def _set_parts(report: LabReport, parts: dict[str, list]) -> dict[str, list[str]]:
    """Put layers and figures in place of those that stand; return them in words, for the history."""
    if "layers" in parts:
        if len(parts["layers"]) > MOST_LAYERS:
            raise Refused({"layers": _("Give at most %(most)s layers.") % {"most": MOST_LAYERS}})
        report.layers.all().delete()
        for position, row in enumerate(parts["layers"], start=1):
            check(LabLayer(report=report, position=position, **row)).save()
    if "figures" in parts:
        report.values.all().delete()
        for row in parts["figures"]:
            _set_figure(report, row)
    return {name: _said(report)[name] for name in parts}


def _set_figure(report: LabReport, row: Mapping[str, Any]) -> None:
    if row["metal"] not in METALS:
        known = ", ".join(METALS)
        raise Refused({"figures": _("Choose one of these metals: %(known)s.") % {"known": known}})
    if not 1 <= row["piece"] <= MOST_PIECES:
        raise Refused({"figures": _("Pieces are numbered from 1 to %(most)s.") % {"most": MOST_PIECES}})
    same = {name: row[name] for name in ("piece", "metal", "unit")}
    if report.values.filter(**same).exists():
        said = _("Piece %(piece)s has two figures of %(metal)s in one unit. Keep one.")
        raise Refused({"figures": said % {"piece": row["piece"], "metal": row["metal"]}})
    check(LabValue(report=report, **row)).save()


def _said(report: LabReport) -> dict[str, list[str]]:
    stack = report.layers.select_related("glaze").order_by("position")
    layers = [
        ", ".join(part for part in (row.glaze.name, row.lot, row.get_area_display()) if part) for row in stack
    ]
    figures = [
        f"{row.metal} {row.piece}: {'<' if row.is_below else ''}{row.amount.normalize():f} {row.get_unit_display()}"
        for row in report.values.order_by("metal", "piece", "unit")
    ]
    return {"layers": layers, "figures": figures}
