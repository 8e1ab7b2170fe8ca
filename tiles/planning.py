"""What there is to say about a tile before it is glazed or fired: the records, handed to tiles/calc/findings.

Body and kiln come first, then each layer from the clay outwards. The layers judged are those that melt
together: the ones put on since the last firing.
"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from inventory.calc.cones import Cone
from tiles.calc.findings import Finding, LayerFacts, firing_findings, layer_findings
from tiles.layer_facts import drafted, stored, with_movement
from tiles.models import Acknowledgement, ClayBody, Firing, Kiln, Tile
from tiles.sentences import sentence, source_words

__all__ = [
    "FoundSentence",
    "drafted",
    "findings_for",
    "findings_of",
    "findings_of_pot",
    "in_words",
    "stored",
    "with_answers",
]


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
    if firing is None:
        return _in_words(layers, tile.body)
    return _in_words(layers, tile.body, firing.target_cone, firing.kind, firing.kiln)


def findings_of_pot(
    drafts: Iterable[Mapping[str, Any]], *, body: ClayBody | None, cone: Cone | None, kiln: Kiln | None
) -> list[FoundSentence]:
    """What there is to say about a pot that is only planned, for a glaze firing to `cone`."""
    return _in_words(drafted(drafts), body, cone, Firing.Kind.GLAZE, kiln)


def _in_words(
    layers: list[LayerFacts],
    body: ClayBody | None,
    target: Cone | None = None,
    kind: str = "",
    kiln: Kiln | None = None,
) -> list[FoundSentence]:
    """Body and kiln first, where a firing is meant."""
    found: list[Finding] = []
    if kind:
        found += firing_findings(
            target=target,
            kind=kind,
            kiln_high=kiln.highest_cone if kiln else None,
            body_low=body.cone_low if body else None,
            body_high=body.cone_high if body else None,
            body_bisque=body.bisque_cone if body else None,
        )
    found += layer_findings(with_movement(layers, target), target)
    return [in_words(finding) for finding in found]
