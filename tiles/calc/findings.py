"""What there is to say about a planned firing and the layers of a tile, as codes with parameters.

The sentences are in tiles/sentences.py. A rule that lacks a fact says nothing: unknown is not wrong.
"""

from collections.abc import Iterable, Iterator, Sequence

from inventory.calc.cones import Cone, ConeRange, unlikely_twin
from tiles.calc.coat_times import LONG_BETWEEN_COATS
from tiles.calc.finding import LEVELS, RULES, Finding, LayerFacts, finding, of_layer
from tiles.calc.findings_coats import coat_findings
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.zones import REGIONS_OF_AREA

__all__ = [
    "LEVELS",
    "RULES",
    "Finding",
    "LayerFacts",
    "firing_findings",
    "is_made_for",
    "layer_findings",
    "unlikely_for_kind",
    "worst",
]

WANTS_A_COVER = ("underglaze", "wash", "slip")  # terra sigillata and engobe are often left bare
COOLEST_WITHOUT_NOUGHT = Cone(2)


def _side(cone: Cone, low: Cone | None, high: Cone | None) -> str:
    """'above' or 'below' the known ends of a range, else ''."""
    if high and cone > high:
        return "above"
    return "below" if low and cone < low else ""


def firing_findings(
    target: Cone | None,
    kind: str,
    kiln_high: Cone | None,
    body_low: Cone | None,
    body_high: Cone | None,
    body_bisque: Cone | None,
) -> tuple[Finding, ...]:
    """Check a firing against its kiln and one clay body, before any glaze is looked at.

    `kind`: bisque, glaze, refire or another. No firing may be hotter than the body's highest maturing cone;
    only glaze firings and refirings must also reach the lowest, because a bisque or a lustre firing is
    cooler on purpose. Rule: the studio's own decision; usual bisque cones (08-04) are common practice.

    >>> found = firing_findings(Cone.parse("10"), "glaze", Cone.parse("8"), None, None, None)
    >>> [finding.code for finding in found]
    ['kiln_too_cool']
    """
    if not target:
        return ()
    found = []
    side = _side(target, body_low if kind in GLAZE_FIRINGS else None, body_high)
    if side:
        found.append(
            finding("body_outside_cone", "target", target=target, range=(body_low, body_high), side=side)
        )
    if kiln_high and target > kiln_high:
        found.append(finding("kiln_too_cool", "target", target=target, kiln_high=kiln_high))
    twin = unlikely_twin(target)
    if twin and _twin_is_usual(target, twin, kind, body_low, body_high, body_bisque):
        found.append(finding("unlikely_cone", "target", target=target, twin=twin))
    return tuple(found)


def unlikely_for_kind(target: Cone, kind: str) -> Finding | None:
    """What is to be asked of a target before anything is known of the load: 6 of a bisque, 06 of a glaze firing.

    Common practice: bisque goes to 08-04, glaze firings of stoneware to 5-10, overglaze to 022-014. An
    earthenware glaze does go to 06, so this is a question and never a stop.

    >>> unlikely_for_kind(Cone.parse("6"), "bisque").details["twin"].code
    '06'
    >>> unlikely_for_kind(Cone.parse("6"), "glaze") is None
    True
    """
    twin = unlikely_twin(target)
    with_nought = target < COOLEST_WITHOUT_NOUGHT
    is_odd = {"bisque": not with_nought, "overglaze": not with_nought, "glaze": with_nought}.get(kind, False)
    return finding("unlikely_cone", "target", target=target, twin=twin) if twin and is_odd else None


def is_made_for(target: Cone, kind: str, low: Cone | None, high: Cone | None, bisque: Cone | None) -> bool:
    """Whether what is known of a clay body speaks for this target: within its range, or next to its bisque cone."""
    twin = unlikely_twin(target)
    if kind == "bisque":
        return bool(bisque and twin and abs(target.rank - bisque.rank) < abs(twin.rank - bisque.rank))
    return bool(low and high and low <= target <= high)


def _twin_is_usual(
    target: Cone,
    twin: Cone,
    kind: str,
    body_low: Cone | None,
    body_high: Cone | None,
    body_bisque: Cone | None,
) -> bool:
    """Would this firing go to 06 rather than 6, or the other way round?"""
    if kind == "bisque":
        if body_bisque:
            return abs(twin.rank - body_bisque.rank) < abs(target.rank - body_bisque.rank)
        return target >= COOLEST_WITHOUT_NOUGHT
    if kind in GLAZE_FIRINGS and body_low and body_high:
        return bool(_side(target, body_low, body_high)) and not _side(twin, body_low, body_high)
    return False


def layer_findings(layers: Sequence[LayerFacts], firing_target: Cone | None) -> tuple[Finding, ...]:
    """Check the layers that go into one firing, in order from the clay outwards; each layer's in turn.

    Pass only the layers of that firing: a lustre belongs to its own, later one. Wax has no cone and no say.
    Rules: the studio's own decisions; the day between coats and the cover over underglaze, wash and slip
    are common practice.
    """
    found: list[Finding] = []
    for index, layer in enumerate(layers):
        found += _own_findings(layer, firing_target)
        found += _uncovered(layer, layers[index + 1 :])
        found += _after_the_coat_before(layer, layers[:index])
        found += _ranges_apart(layer, layers[:index])
        found += coat_findings(layer, layers[:index])
    return tuple(found)


def _own_findings(layer: LayerFacts, target: Cone | None) -> Iterator[Finding]:
    side = _side(target, layer.cone_low, layer.cone_high) if target and layer.kind != "wax" else ""
    if side:
        ends = (layer.cone_low, layer.cone_high)
        yield finding(
            "glaze_outside_cone",
            of_layer(layer, "glaze"),
            name=layer.name,
            range=ends,
            target=target,
            side=side,
        )
    code = {"do_not_use": "fill_do_not_use", "ask": "fill_ask_first"}.get(layer.use_standing)
    if code:
        yield finding(code, of_layer(layer, "fill"), name=layer.name, reasons=layer.use_reasons)


def _uncovered(layer: LayerFacts, later: Sequence[LayerFacts]) -> Iterator[Finding]:
    if layer.kind not in WANTS_A_COVER:
        return
    covered = {region for over in later if over.kind == "glaze" for region in REGIONS_OF_AREA[over.area]}
    bare = tuple(region for region in REGIONS_OF_AREA[layer.area] if region not in covered)
    if bare:
        yield finding("underglaze_uncovered", of_layer(layer, "area"), name=layer.name, regions=bare)


def _after_the_coat_before(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    under = earlier[-1] if earlier else None
    if not under or not under.applied_at or not layer.applied_at:
        return
    gap = layer.applied_at - under.applied_at
    if gap > LONG_BETWEEN_COATS:
        hours = int(gap.total_seconds() // 3600)
        yield finding(
            "coat_after_a_day", of_layer(layer, "applied_at"), name=layer.name, under=under.name, hours=hours
        )


def _ranges_apart(layer: LayerFacts, earlier: Sequence[LayerFacts]) -> Iterator[Finding]:
    own = _range(layer)
    for under in earlier:
        other = _range(under)
        if own and other and not own.meets(other):
            yield finding(
                "cone_ranges_apart",
                of_layer(layer, "glaze"),
                name=layer.name,
                range=(own.low, own.high),
                under=under.name,
                under_range=(other.low, other.high),
            )


def _range(layer: LayerFacts) -> ConeRange | None:
    if layer.kind in ("wax", "lustre") or not layer.cone_low or not layer.cone_high:
        return None
    return ConeRange(layer.cone_low, layer.cone_high)


def worst(findings: Iterable[Finding]) -> str | None:
    """The gravest level among the findings, None when there are none.

    >>> worst([Finding("a", "note"), Finding("b", "stop"), Finding("c", "warn")])
    'stop'
    """
    return max((finding.level for finding in findings), key=LEVELS.index, default=None)
