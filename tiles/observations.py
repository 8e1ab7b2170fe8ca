"""What a tile's record says for or against the causes of a fault. What nobody wrote down is not known, and so left out.

Codes are those of tiles/calc/causes.py, limits those of tiles/calc/observing.py.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.models import Flag, GlazeSubstance, Treatment
from inventory.sentences import cone_words
from tiles.calc import observing as limits
from tiles.calc.coat_times import LONG_BETWEEN_COATS, came_quick, gaps
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.movement import movement_word
from tiles.calc.observing import above, any_of
from tiles.course import course_of
from tiles.fault_places import speaks_of
from tiles.models import Firing, Layer, Outcome, Tile, TileFiring
from tiles.observations_of_others import of_others

FIRED = (Firing.State.UNLOADED, Firing.State.COOLING, Firing.State.STOPPED)
HEAVY = ("Cu", "Mn", "Ba")
EDGES = ("rim", "edge", "corner")


@dataclass(frozen=True, slots=True)
class Seen:
    """One observation: whether it is so, and the figure that says it."""

    is_so: bool
    detail: str = ""


Found = Iterator[tuple[str, bool | None, str]]


def observations(tile: Tile, fault: str, person: Any) -> dict[str, Seen]:
    """By code, of what is known; of other tiles only those that the person may see. A constant number of queries."""
    rows = list(tile.tile_firings.filter(firing__state__in=FIRED).select_related("firing__log"))
    rows.sort(key=lambda row: (row.firing.unloaded_at is None, row.firing.unloaded_at, row.firing.number))
    melted = [row for row in rows if row.firing.kind in GLAZE_FIRINGS]
    last = melted[-1] if melted else None
    layers = [
        layer
        for layer in tile.layers.select_related("glaze", "fill").order_by("position")
        if layer.glaze.kind != "wax" and (layer.precedes_id or last is None)
    ]
    looks = list(tile.outcomes.prefetch_related("faults").order_by("looked_on", "created_at"))
    found: dict[str, Seen] = {}
    for code, is_so, detail in (
        *_of_layers(layers, tile),
        *_of_buckets(layers),
        *_of_body(tile, rows, last),
        *_of_heat(layers, last),
        *_of_firings(melted, rows),
        *_of_glaze(layers, looks),
        *_of_looks(looks, fault, last),
        *of_others(tile, fault, layers, last, person),
    ):
        if is_so is not None:
            found[code] = Seen(is_so, detail)
    return found


def _of_layers(layers: list[Any], tile: Tile) -> Found:
    if not layers:
        return
    thick = [
        limits.lies_thick(_float(one.thickness_mm), one.method, one.coats, _float(one.dip_seconds))
        for one in layers
    ]
    measured = [f"{one.thickness_mm.normalize():f} mm" for one in layers if one.thickness_mm is not None]
    coats = ", ".join(measured) or _("coats: %(n)s") % {"n": ", ".join(str(one.coats) for one in layers)}
    yield "thick", any_of(thick), coats
    yield (
        "thin",
        any_of(limits.lies_thin(_float(one.thickness_mm), one.method, one.coats) for one in layers),
        coats,
    )
    uneven = [None if one.is_even is None else not one.is_even for one in layers]
    yield "uneven", any_of(uneven), ""
    moments = [one.applied_at for one in layers]
    is_quick, shortest = came_quick(moments)
    yield "quick_coats", is_quick, _minutes(shortest) if shortest else ""
    if between := gaps(moments):
        yield "day_between", max(between) > LONG_BETWEEN_COATS, _minutes(max(between))
    yield "layered", any(len(zone.layer_positions) > 1 for zone in tile.zones.all()), ""
    yield "sprayed", any(one.method == Layer.Method.SPRAY for one in layers), ""
    states = [one.ground_state for one in layers]
    for state in (Layer.GroundState.DUSTY, Layer.GroundState.OILY, Layer.GroundState.DAMP):
        yield state.value, any_of(None if not one else one == state for one in states), ""
    yield "on_fired", any(one.ground == Layer.Ground.FIRED for one in layers), ""
    yield "on_greenware", any(one.ground == Layer.Ground.GREENWARE for one in layers), ""


def _of_buckets(layers: list[Any]) -> Found:
    """Gravity as it was kept with the layer; flags whenever raised; what had been put in before."""
    windows = [
        (float(one.sg_then), float(one.glaze.sg_low), float(one.glaze.sg_high))
        for one in layers
        if one.sg_then is not None and one.glaze.sg_low is not None
    ]
    if windows:
        said = "; ".join(
            _("%(sg).2f, wanted %(low).2f to %(high).2f") % {"sg": sg, "low": low, "high": high}
            for sg, low, high in windows
        )
        yield "sg_high", any(sg > high for sg, _low, high in windows), said
        yield "sg_low", any(sg < low for sg, low, _high in windows), said
    dipped = [one for one in layers if one.fill is not None]
    if not dipped:
        return
    touching, added, stirred = Q(pk__in=[]), Q(pk__in=[]), Q(pk__in=[])
    for one in dipped:
        moment = one.applied_at or timezone.now()
        touching |= Q(pk__in=Flag.objects.touching(fill=one.fill_id, at=one.applied_at).values("pk"))
        added |= Q(fill=one.fill_id, at__lte=moment)
        stirred |= Q(fill=one.fill_id, at__lte=moment, at__gte=moment - limits.DAY)
    kinds = set(Flag.objects.filter(touching).values_list("kind", flat=True))
    yield "contaminated", True if "contaminated" in kinds else None, ""
    done = Treatment.objects.filter(added).values_list("kind", flat=True)
    yield "deflocculated", True if "deflocculated" in set(done) else None, ""
    if kinds & {"settled_hard", "dried_out"}:
        yield "settled", True, ""
    elif Treatment.objects.filter(stirred, kind="stirred").exists():
        yield "settled", False, ""
    ages = [(one.applied_at or timezone.now()) - _began(one.fill) for one in dipped]
    yield "old", max(ages) > timedelta(days=365), ""


def _of_body(tile: Tile, rows: list[Any], last: Any) -> Found:
    body = tile.body
    if body is None:
        return
    bisque = next((row for row in rows if row.firing.kind == Firing.Kind.BISQUE), None)
    if bisque is not None:
        saw = bisque.cone or bisque.firing.target_cone
        yield "bisque_low", limits.cooler_than(saw, body.bisque_cone), cone_words(saw)
        yield "bisque_high", limits.hotter_than(saw, body.bisque_cone), cone_words(saw)
    percent = _float(body.absorption_percent)
    porous = above(percent, limits.POROUS_PERCENT, limits.TIGHT_PERCENT)
    yield "porous", porous, _("it takes up %(n)s %%") % {"n": f"{percent:g}"} if percent is not None else ""
    if last is not None and (saw := _proved(last)):
        below, over = limits.outside(saw, body.cone_low, body.cone_high)
        yield "body_under", below, cone_words(saw)
        yield "body_over", over, cone_words(saw)


def _proved(row: TileFiring) -> Any:
    """The cone that it saw, unless that was only planned."""
    return None if row.cone_basis == "planned" else row.cone


def _of_heat(layers: list[Any], last: Any) -> Found:
    """Against what was meant, and what was meant against what the glazes want."""
    if last is None:
        return
    target, saw = last.firing.target_cone, _proved(last)
    ends = [limits.outside(target, one.glaze.cone_low, one.glaze.cone_high) for one in layers]
    if ends:
        yield "wants_hotter", any_of(below for below, _over in ends), cone_words(target)
        yield "wants_cooler", any_of(over for _below, over in ends), cone_words(target)
    if last.cone_basis == "witness_short":
        yield "fired_under", True, _("no witness cone was down")
        yield "fired_over", False, ""
    elif saw is not None:
        said = _("meant %(meant)s, saw %(saw)s") % {"meant": cone_words(target), "saw": cone_words(saw)}
        yield "fired_over", limits.hotter_than(saw, target), said
        yield "fired_under", limits.cooler_than(saw, target), said


def _of_firings(melted: list[Any], rows: list[Any]) -> Found:
    if not melted:
        return
    firing = melted[-1].firing
    log = getattr(firing, "log", None)
    rate = log.rate_c_per_h if log is not None else None
    said = _("%(n)s °C an hour") % {"n": round(rate)} if rate is not None else ""
    yield "fast_climb", None if rate is None else rate > limits.FAST_C_PER_H, said
    yield "slow_climb", None if rate is None else rate < limits.SLOW_C_PER_H, said
    course = course_of(firing)
    held, cooled = course.hold_minutes, course.cooling_c_per_h
    yield "no_hold", None if held is None else held < limits.HOLD_MINUTES, ""
    yield "long_hold", None if held is None else held > limits.LONG_HOLD_MINUTES, ""
    yield "fast_cooling", None if cooled is None else cooled > limits.FAST_COOLING, ""
    yield "slow_cooling", None if cooled is None else cooled < limits.SLOW_COOLING, ""
    yield "reduction", firing.atmosphere == Firing.Atmosphere.REDUCTION, ""
    yield "refired", len(melted) > 1, ""
    yield "overglaze", any(row.firing.kind == Firing.Kind.OVERGLAZE for row in rows), ""


def _of_glaze(layers: list[Any], looks: list[Any]) -> Found:
    surface = next((look.surface for look in reversed(looks) if look.surface), "")
    opacity = next((look.opacity for look in reversed(looks) if look.opacity), "")
    if layers:
        surface, opacity = surface or layers[-1].glaze.surface, opacity or layers[-1].glaze.opacity
    yield "matte", surface in ("matte", "dry") if surface else None, ""
    yield "opaque", opacity == "opaque" if opacity else None, ""
    noted = GlazeSubstance.objects.filter(
        glaze__in=[one.glaze_id for one in layers], substance__in=HEAVY, taken_back_at=None
    )
    percents = [_float(percent) for percent in noted.values_list("percent", flat=True)]
    much = [None if percent is None else percent >= limits.MUCH_PERCENT for percent in percents]
    yield "heavy_colour", any_of(much), ""
    moves = [movement_word(look.movement_mm) for look in looks if look.movement_mm is not None]
    yield "moved", "lot" in moves if moves else None, ""


def _of_looks(looks: list[Any], fault: str, last: Any) -> Found:
    """When the fault was first seen, and where."""
    since = [look for look in looks if last is None or look.firing_id in (None, last.firing_id)]
    with_it = [(look, one.where) for look in since for one in look.faults.all() if one.kind == fault]
    if not with_it:
        return
    first = with_it[0][0]
    earlier = any(look.looked_on < first.looked_on for look in since)
    out = last.firing.unloaded_at if last is not None else None
    # The day is all that is known of a look: its end is not before the unloading.
    seen_at = timezone.make_aware(datetime.combine(first.looked_on, time.max))
    yield "late", limits.came_late(seen_at, out, earlier), ""
    places = " ".join(where for _look, where in with_it).lower()
    if places:
        is_edge = any(word in places for word in EDGES) or speaks_of(places, "lip")
        yield "at_edge", is_edge, ""
    zones = {look.zone for look, _where in with_it}
    if zones == {Outcome.Zone.OVERLAP} or speaks_of(places, "overlap"):
        yield "at_overlap", True, ""
    elif places or zones == {Outcome.Zone.ALONE}:
        yield "at_overlap", False, ""


def _began(fill: Any) -> datetime:
    return timezone.make_aware(datetime.combine(fill.made_on, time.min)) if fill.made_on else fill.started_at


def _minutes(gap: timedelta) -> str:
    minutes = int(gap.total_seconds() // 60)
    if minutes < 120:
        return _("%(n)s minutes") % {"n": minutes}
    return _("%(n)s hours") % {"n": minutes // 60}


def _float(value: Any) -> float | None:
    return None if value is None else float(value)
