"""What was typed into the wall's search, piece by piece: cones, words that name a look, and words to be looked for."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from inventory.calc.cones import Cone, ConeError

_NUMBER = r"[0-9]{1,3}(?:\.5|½|\s1/2)?"
# A phone's keyboard writes curly quotes by itself.
_PIECE = re.compile(
    rf"""[“„"«](?P<quoted>[^“”„"«»]*)[“”"»]
    | (?:\bcones?\s+|\^)(?P<low>{_NUMBER})(?:\s*(?:-|–|\bto\b)\s*\^?(?P<high>{_NUMBER}))?(?![\w.½])
    | (?P<word>[^\s,;“”"„«»]+)""",
    re.IGNORECASE | re.VERBOSE,
)
_WORD = re.compile(r"[^\s,;“”\"„«»]+")


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a search. `kind` is 'cone' (`cones`: from, to), 'words', 'quoted', or what `value` chooses from."""

    kind: str
    value: str
    start: int
    end: int
    cones: tuple[Cone, Cone] | None = None


def pieces(text: str, looks: Mapping[str, tuple[str, str]]) -> list[Piece]:
    """The pieces of `text` in order. `looks` maps a whole word to (kind, value), such as ('surface', 'satin').

    What stands in quotes is looked for as it stands. A cone that does not exist is two words.

    >>> looks = {"satin": ("surface", "satin")}
    >>> [(p.kind, p.value) for p in pieces('satin cone 6-7 ash "flour satin"', looks)]
    [('surface', 'satin'), ('cone', '6..7'), ('words', 'ash'), ('quoted', 'flour satin')]
    >>> [(p.kind, p.value) for p in pieces("^06 cone 99", looks)]
    [('cone', '06'), ('words', 'cone'), ('words', '99')]
    """
    found, at = list[Piece](), 0
    while match := _PIECE.search(text, at):
        at = match.end()
        if match["quoted"] is not None:
            if quoted := " ".join(match["quoted"].split()):
                found.append(Piece("quoted", quoted, match.start(), at))
        elif match["word"] is not None:
            kind, value = looks.get(match["word"].casefold(), ("words", match["word"]))
            found.append(Piece(kind, value, match.start(), at))
        elif ends := _cones(match["low"], match["high"]):
            value = ends[0].code if ends[0] == ends[1] else f"{ends[0].code}..{ends[1].code}"
            found.append(Piece("cone", value, match.start(), at, ends))
        else:
            found += [
                Piece("words", word[0], word.start(), word.end())
                for word in _WORD.finditer(text, match.start(), at)
            ]
    return found


def without(text: str, piece: Piece) -> str:
    """The text without one of its pieces.

    >>> without("satin cone 6 ash", Piece("cone", "6", 6, 12))
    'satin ash'
    """
    return " ".join(f"{text[: piece.start]} {text[piece.end :]}".split())


def _cones(low: str, high: str | None) -> tuple[Cone, Cone] | None:
    """Both ends, the cooler one first."""
    try:
        ends = sorted((Cone.parse(low), Cone.parse(high or low)))
    except ConeError:
        return None
    return ends[0], ends[1]
