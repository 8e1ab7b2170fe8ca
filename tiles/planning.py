"""What there is to say about a tile before it is glazed or fired: the records, handed to tiles/calc/findings.

Body and kiln come first, then each layer from the clay outwards. The layers judged are those that melt
together: the ones put on since the last firing.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.db.models import Q

from inventory.models import Fill, Flag
from tiles.calc.findings import Finding, LayerFacts, firing_findings, layer_findings
from tiles.models import Acknowledgement, Firing, Layer, Tile
from tiles.queries import SPOILING
from tiles.sentences import sentence, source_words


@dataclass(frozen=True, slots=True)
class FoundSentence:
    """A finding in words. `level` is stop, warn or note; `source` says what it rests on.

    `key` is the same for everybody to whom the same is said, in whatever language and units; `answer` is what
    somebody has answered to it, once `with_answers` has looked.
    """

    code: str
    level: str
    sentence: str
    field: str
    source: str
    key: str = ""
    answer: Acknowledgement | None = None

    @property
    def is_open(self) -> bool:
        """Nobody should pass it without having read it."""
        return self.level != "note" and self.answer is None


def in_words(finding: Finding) -> FoundSentence:
    said = repr((finding.code, [(name, str(value)) for name, value in finding.params]))
    key = f"{finding.field}:{hashlib.sha256(said.encode()).hexdigest()[:16]}"
    return FoundSentence(
        finding.code, finding.level, sentence(finding), finding.field, source_words(finding), key
    )


def with_answers(tile: Tile, found: Iterable[FoundSentence]) -> list[FoundSentence]:
    """The same findings, each with its answer."""
    found = list(found)
    if not found:
        return []
    answers = {(answer.code, answer.about): answer for answer in tile.acknowledgements.select_related("by")}
    return [replace(finding, answer=answers.get((finding.code, finding.key))) for finding in found]


def findings_for(tile: Tile, *, firing: Firing | None = None) -> list[FoundSentence]:
    """Everything to say about `tile` as it stands, or as it would be in `firing`."""
    return findings_of(tile, firing, stored(tile, firing))


def findings_of(tile: Tile, firing: Firing | None, layers: list[LayerFacts]) -> list[FoundSentence]:
    """What there is to say about these layers on `tile`: `stored` ones, and `drafted` ones on top of them."""
    found: list[Finding] = []
    if firing is not None:
        found += firing_findings(
            target=firing.target_cone,
            kind=firing.kind,
            kiln_high=firing.kiln.highest_cone,
            body_low=tile.body.cone_low if tile.body else None,
            body_high=tile.body.cone_high if tile.body else None,
            body_bisque=tile.body.bisque_cone if tile.body else None,
        )
    found += layer_findings(layers, firing.target_cone if firing else None)
    return [in_words(finding) for finding in found]


def stored(tile: Tile, firing: Firing | None) -> list[LayerFacts]:
    """The layers that melt together, each with the standing that its bucket had then.

    Without the flags that were lifted since, and with those that have turned out to touch it.
    """
    return [_stored(layer) for layer in _melting_together(tile, firing)]


def drafted(drafts: Iterable[Mapping[str, Any]]) -> list[LayerFacts]:
    """More layers (fields of `add_layer`), counted from 1; one that names no glaze yet is left out.

    Each has the standing that its bucket has now, and covers the whole if it does not say what it covers.
    """
    found = [_drafted(draft, position=n) for n, draft in enumerate(drafts, start=1)]
    return [layer for layer in found if layer]


def _melting_together(tile: Tile, firing: Firing | None) -> Any:
    """The layers of `firing` if it has been loaded already, else those that no firing has melted yet."""
    unfired = Q(precedes=None) | Q(precedes__state__in=Firing.TAKES_TILES)
    together = Q(precedes=firing) | unfired if firing else unfired
    return tile.layers.filter(together).select_related("glaze").with_touch().order_by("position")


def _stored(layer: Any) -> LayerFacts:
    use, reasons = _standing_now(layer)
    return LayerFacts(
        position=layer.position,
        name=layer.glaze.name,
        kind=layer.glaze.kind,
        cone_low=layer.glaze.cone_low,
        cone_high=layer.glaze.cone_high,
        area=layer.area,
        use_standing=use,
        use_reasons=reasons,
        applied_at=layer.applied_at,
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


def _drafted(draft: Mapping[str, Any], *, position: int) -> LayerFacts | None:
    fill, glaze = draft.get("fill"), draft.get("glaze")
    standing = None
    if fill is not None:
        fill = Fill.objects.select_related("glaze", "bucket").with_standing().get(pk=fill.pk)
        glaze, standing = fill.glaze, fill.standing
    if glaze is None:
        return None
    return LayerFacts(
        position=position,
        name=glaze.name,
        kind=glaze.kind,
        cone_low=glaze.cone_low,
        cone_high=glaze.cone_high,
        area=draft.get("area") or Layer.Area.WHOLE,
        use_standing=standing.use if standing else "",
        use_reasons=standing.use_reasons if standing else (),
        applied_at=draft.get("applied_at"),
    )
