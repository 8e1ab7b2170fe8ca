"""What the rules of tiles/calc/findings are told of layers: stored ones, and drafts that are still being typed."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db.models import Max, OuterRef, Q, Subquery
from django.utils import timezone

from inventory.calc.cones import Cone
from inventory.calc.hazards import hazards
from inventory.models import Fill, Flag, Glaze, Reading, Treatment
from inventory.substances import substances_of
from tiles.calc.coat_times import is_timed
from tiles.calc.findings import LayerFacts
from tiles.models import Firing, Layer, Tile
from tiles.moved import most_moved
from tiles.queries import SPOILING

STIRS = [kind for kind in Treatment.Kind if kind != Treatment.Kind.ADDED]


def stored(tile: Tile, firing: Firing | None) -> list[LayerFacts]:
    """The layers that melt together, each with the standing that its bucket had then.

    Without the flags that were lifted since, and with those that have turned out to touch it.
    """
    layers = list(_melting_together(tile, firing))
    inside = _inside(layer.glaze for layer in layers)
    return [_stored(layer, inside) for layer in layers]


def drafted(drafts: Iterable[Mapping[str, Any]]) -> list[LayerFacts]:
    """More layers (fields of `add_layer`), counted from 1; one that names no glaze yet is left out.

    Each has the standing that its bucket has now, and covers the whole if it does not say what it covers.
    """
    rows = [_at_hand(draft) for draft in drafts]
    inside = _inside(glaze for glaze, _fill, _draft in rows if glaze)
    return [
        _drafted(glaze, fill, draft, position, inside)
        for position, (glaze, fill, draft) in enumerate(rows, start=1)
        if glaze is not None
    ]


def with_movement(layers: list[LayerFacts], target: Cone | None) -> list[LayerFacts]:
    """The same with how far each glaze moved here, at a cone no hotter than `target`."""
    moved = most_moved({layer.glaze for layer in layers if layer.glaze}, target) if layers else {}
    found = []
    for layer in layers:
        measured = next((mm for glaze, mm in moved.items() if str(glaze) == layer.glaze), None)
        if measured is not None:
            layer = replace(layer, moved_mm=measured, is_moved_expected=False)
        found.append(layer)
    return found


def _melting_together(tile: Tile, firing: Firing | None) -> Any:
    """The layers of `firing` if it has been loaded already, else those that no firing has melted yet."""
    unfired = Q(precedes=None) | Q(precedes__state__in=Firing.TAKES_TILES)
    together = Q(precedes=firing) | unfired if firing else unfired
    rows = tile.layers.filter(together).select_related("glaze", "stirred_in").with_touch()
    stirred = Treatment.objects.filter(fill=OuterRef("fill"), at__lte=OuterRef("applied_at"), kind__in=STIRS)
    read = Reading.objects.filter(fill=OuterRef("fill"), taken_at__lte=OuterRef("applied_at"))
    return rows.annotate(
        treated_at=Subquery(stirred.order_by("-at").values("at")[:1]),
        read_at=Subquery(read.order_by("-taken_at").values("taken_at")[:1]),
    ).order_by("position")


def _inside(glazes: Iterable[Glaze]) -> dict[Any, tuple[str, ...]]:
    """What of concern is grave to handle in each glaze, in one query."""
    return {
        glaze: tuple(dict.fromkeys(row.substance for row in rows if hazards()[row.substance].is_grave))
        for glaze, rows in substances_of(glazes).items()
    }


def _of_glaze(glaze: Glaze, inside: Mapping[Any, tuple[str, ...]]) -> dict[str, Any]:
    return {
        "glaze": str(glaze.pk),
        "name": glaze.name,
        "kind": glaze.kind,
        "cone_low": glaze.cone_low,
        "cone_high": glaze.cone_high,
        "substances": inside.get(glaze.pk, ()),
        "health_statement": glaze.health_statement,
        "moved_mm": glaze.expected_movement_mm,
        "is_moved_expected": glaze.expected_movement_mm is not None,
    }


def _stored(layer: Any, inside: Mapping[Any, tuple[str, ...]]) -> LayerFacts:
    use, reasons = _standing_now(layer)
    return LayerFacts(
        **_of_glaze(layer.glaze, inside),
        position=layer.position,
        area=layer.area,
        use_standing=use,
        use_reasons=reasons,
        applied_at=layer.applied_at,
        is_timed=is_timed(layer.applied_at),
        method=layer.method,
        tool=layer.tool,
        coats=layer.coats,
        is_even=layer.is_even,
        thickness_mm=layer.thickness_mm,
        ground=layer.ground,
        ground_state=layer.ground_state,
        wiped_back=layer.wiped_back,
        stirred_in=layer.stirred_in.name if layer.stirred_in else "",
        stirred_at=_later(layer.treated_at, layer.read_at),
    )


def _standing_now(layer: Any) -> tuple[str, tuple[str, ...]]:
    """Use and reasons of that day. A flag's kind is a reason by the same name, and goes when the flag is lifted."""
    then = [code for code in layer.reasons_then if not code.endswith("not_for_food")]
    if layer.is_spoiled or any(code in Flag.Kind.values for code in then):
        flags = Flag.objects.touching(fill=layer.fill_id, at=layer.applied_at)
        touching = set(flags.values_list("kind", flat=True))
        found = sorted(touching.intersection(SPOILING) - {*then})
        then = found + [code for code in then if code not in Flag.Kind.values or code in touching]
    if any(code in SPOILING for code in then):
        return "do_not_use", tuple(then)
    return ("ask" if then else layer.use_then and "use"), tuple(then)


def _at_hand(draft: Mapping[str, Any]) -> tuple[Glaze | None, Any, Mapping[str, Any]]:
    fill = draft.get("fill")
    if fill is None:
        return draft.get("glaze"), None, draft
    fill = Fill.objects.select_related("glaze", "bucket").with_standing().get(pk=fill.pk)
    return fill.glaze, fill, draft


def _drafted(
    glaze: Glaze, fill: Any, draft: Mapping[str, Any], position: int, inside: Mapping[Any, tuple[str, ...]]
) -> LayerFacts:
    standing = fill.standing if fill else None
    applied_at, other = draft.get("applied_at"), draft.get("stirred_in")
    used_at = applied_at or timezone.now()
    return LayerFacts(
        **_of_glaze(glaze, inside),
        position=position,
        area=draft.get("area") or Layer.Area.WHOLE,
        use_standing=standing.use if standing else "",
        use_reasons=standing.use_reasons if standing else (),
        applied_at=applied_at,
        is_timed=is_timed(applied_at),
        asked_at=used_at,
        method=draft.get("method") or "",
        tool=draft.get("tool") or "",
        coats=draft.get("coats"),
        is_even=draft.get("is_even"),
        thickness_mm=draft.get("thickness_mm"),
        ground=draft.get("ground") or "",
        ground_state=draft.get("ground_state") or "",
        wiped_back=bool(draft.get("wiped_back")),
        stirred_in=other.name if other else "",
        stirred_at=_last_stirred(fill, used_at) if fill else None,
    )


def _last_stirred(fill: Any, at: datetime) -> datetime | None:
    """A reading is taken after stirring, so it means that it was stirred."""
    treated = Treatment.objects.filter(fill=fill, at__lte=at, kind__in=STIRS).aggregate(last=Max("at"))
    read = Reading.objects.filter(fill=fill, taken_at__lte=at).aggregate(last=Max("taken_at"))
    return _later(treated["last"], read["last"])


def _later(*moments: datetime | None) -> datetime | None:
    return max((moment for moment in moments if moment), default=None)
