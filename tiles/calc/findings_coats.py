"""What there is to say about how a layer was put on, what it went onto and what is in it.

Thresholds are this project's own where no source gives one, and each says what it rests on.
"""

import re
from collections.abc import Iterator, Sequence
from datetime import timedelta
from decimal import Decimal

from tiles.calc.coat_times import SHINE_GOES
from tiles.calc.finding import Finding, LayerFacts, finding, of_layer
from tiles.calc.movement import LITTLE_UP_TO_MM
from tiles.calc.zones import REGIONS_OF_AREA

# Common practice: three even brushed coats, each across the one before.
BRUSHED_COATS = 3
# Colour laid on thinner than this stays on the pot; three coats, or half a millimetre, sinter onto what they touch.
THICK_COATS, THICK_MM = 3, Decimal("0.5")
# Glaze settles within hours (common practice); not every stirring is written down, so a week is waited for.
STIRRED_WITHIN = timedelta(days=7)
# Words of a tool that name stiff hair. Nothing is concluded from any other word.
STIFF = re.compile(r"\b(stiff|bristles?|hog|wire|scrubbing)\b", re.IGNORECASE)
BRUSHED_FULL = ("glaze", "underglaze")
COLOURS = ("underglaze", "slip", "engobe", "wash")
MELTS = ("glaze", "lustre")


def coat_findings(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    """Check one layer; `earlier` are those under it that go into the same firing. Wax burns away and has no say.

    >>> one = LayerFacts(position=1, name="A", kind="glaze", cone_low=None, cone_high=None, area="foot")
    >>> [found.code for found in coat_findings(one, ())]
    ['glaze_on_foot']
    """
    if layer.kind == "wax":
        return
    yield from _runny(layer, earlier)
    yield from _on_the_foot(layer)
    yield from _ground(layer, earlier)
    yield from _drying(layer, earlier)
    yield from _bucket(layer)
    yield from _brushed(layer)
    yield from _handling(layer)


def is_runny(layer: LayerFacts) -> bool:
    """Moved more than the bare foot that is commonly left below a glaze (calc/movement.py)."""
    return layer.moved_mm is not None and layer.moved_mm > LITTLE_UP_TO_MM


def _runny(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    if not is_runny(layer):
        return
    regions = set(REGIONS_OF_AREA[layer.area])
    if regions & {"bottom", "foot"} and not layer.wiped_back:
        side = "expected" if layer.is_moved_expected else "measured"
        yield finding(
            "runny_near_foot", of_layer(layer, "area"), name=layer.name, moved=layer.moved_mm, side=side
        )
    for under in earlier:
        if is_runny(under) and regions & set(REGIONS_OF_AREA[under.area]):
            yield finding("runny_on_runny", of_layer(layer, "glaze"), name=layer.name, under=under.name)


def _on_the_foot(layer: LayerFacts) -> Iterator[Finding]:
    """Test tiles stand upright: only what was laid on the foot itself is on the shelf."""
    if layer.area != "foot" or layer.wiped_back:
        return
    if layer.kind in MELTS:
        yield finding("glaze_on_foot", of_layer(layer, "area"), name=layer.name)
    thick = (layer.coats or 0) >= THICK_COATS or (layer.thickness_mm or 0) >= THICK_MM
    if layer.kind in COLOURS and thick:
        yield finding("thick_on_foot", of_layer(layer, "area"), name=layer.name)


def _ground(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    field = of_layer(layer, "ground_state")
    if layer.ground_state == "damp" and earlier:
        yield finding("coat_on_undried", field, name=layer.name, under=earlier[-1].name)
    elif layer.ground_state in ("oily", "dusty", "damp"):
        yield finding(f"ground_{layer.ground_state}", field, name=layer.name)
    if layer.ground == "fired" and layer.kind != "lustre" and not earlier:
        yield finding("on_fired_glaze", of_layer(layer, "ground"), name=layer.name)


def _drying(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    """Only of moments that were said: what is logged one after the other was not put on so."""
    under = earlier[-1] if earlier else None
    if not (under and under.is_timed and layer.is_timed and under.applied_at and layer.applied_at):
        return
    gap = layer.applied_at - under.applied_at
    if timedelta(0) <= gap < SHINE_GOES:
        minutes = int(gap.total_seconds() // 60)
        yield finding(
            "coat_soon_after",
            of_layer(layer, "applied_at"),
            name=layer.name,
            under=under.name,
            minutes=minutes,
        )


def _bucket(layer: LayerFacts) -> Iterator[Finding]:
    if layer.stirred_in:
        yield finding("stirred_in", of_layer(layer, "stirred_in"), name=layer.name, other=layer.stirred_in)
    used_at = layer.applied_at or layer.asked_at
    if layer.stirred_at and used_at:
        rested = used_at - layer.stirred_at
        if rested > STIRRED_WITHIN:
            yield finding("not_stirred", of_layer(layer, "fill"), name=layer.name, days=rested.days)


def _brushed(layer: LayerFacts) -> Iterator[Finding]:
    if layer.is_even is False:
        yield finding("uneven_coats", of_layer(layer, "is_even"), name=layer.name)
    if layer.method != "brush":
        return
    if layer.kind in BRUSHED_FULL and layer.coats is not None and layer.coats < BRUSHED_COATS:
        yield finding("few_coats", of_layer(layer, "coats"), name=layer.name, coats=layer.coats)
    if STIFF.search(layer.tool):
        yield finding("stiff_brush", of_layer(layer, "tool"), name=layer.name, tool=layer.tool)


def _handling(layer: LayerFacts) -> Iterator[Finding]:
    field = of_layer(layer, "method")
    if layer.method == "spray":
        if layer.substances:
            yield finding("hazard_in_spray", field, name=layer.name, substances=layer.substances)
        else:
            yield finding("spray_mist", field, name=layer.name)
        if layer.health_statement:
            yield finding("container_warns", field, name=layer.name, statement=layer.health_statement)
    elif layer.method and layer.substances:
        yield finding("hazard_on_skin", field, name=layer.name, substances=layer.substances)
