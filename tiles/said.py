"""What is to be said against a layer is read before it is saved: it comes back once, then it is saved anyway."""

from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from tiles.actions.acknowledgements import waiting_in
from tiles.calc.findings import LayerFacts
from tiles.calc.ranges import shortened
from tiles.models import Tile
from tiles.planning import FoundSentence, drafted, findings_for, findings_of, stored, with_answers


def said_of(tile: Tile) -> list[FoundSentence]:
    """What there is to say about a tile as it stands, with what was answered."""
    return with_answers(tile, findings_for(tile, firing=waiting_in(tile)))


def added_by(tile: Tile, drafts: list[dict[str, Any]]) -> list[FoundSentence]:
    """What more layers would add to that."""
    return _added(tile, drafted(drafts))


def _added(tile: Tile, more: list[LayerFacts]) -> list[FoundSentence]:
    if not more:
        return []
    firing, height = waiting_in(tile), tile.layers.count()
    layers = stored(tile, firing)
    on_top = [replace(layer, position=height + layer.position) for layer in more]
    before = {finding.key for finding in findings_of(tile, firing, layers)}
    found = findings_of(tile, firing, [*layers, *on_top])
    return with_answers(tile, [finding for finding in found if finding.key not in before])


def unseen(data: Any, found: list[Any]) -> bool:
    """Whether something at level warn or stop was not on the page from which this was sent."""
    return any(finding.is_open and finding.key not in data.getlist("seen") for finding in found)


@dataclass(frozen=True, slots=True)
class SaidOfSeveral:
    """One finding, and which of several tiles it is said of: '' when of all."""

    finding: FoundSentence
    numbers: str

    @property
    def level(self) -> str:
        return self.finding.level

    @property
    def sentence(self) -> str:
        if not self.numbers:
            return self.finding.sentence
        return _("Tiles %(numbers)s: %(said)s") % {"numbers": self.numbers, "said": self.finding.sentence}

    @property
    def source(self) -> str:
        return self.finding.source

    @property
    def key(self) -> str:
        return self.finding.key

    @property
    def is_open(self) -> bool:
        return self.finding.is_open


def added_by_all(tiles: list[Tile], draft: dict[str, Any]) -> list[SaidOfSeveral]:
    """What one more layer on each would add, each thing once."""
    said: dict[str, tuple[FoundSentence, list[str]]] = {}
    more = drafted([draft])
    for tile in tiles:
        for finding in _added(tile, more):
            said.setdefault(finding.key, (finding, []))[1].append(tile.number)
    return [
        SaidOfSeveral(finding, "" if len(numbers) == len(tiles) else shortened(numbers))
        for finding, numbers in said.values()
    ]
