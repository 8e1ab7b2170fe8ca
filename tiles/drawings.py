"""Test tiles and their layers as drawings: geometry for `_tile.html` and `_stack.html`."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from django.utils.translation import gettext as _

from tiles.drawing_words import BODY_COLOURS, layer_words

TILE_WIDTH, TILE_HEIGHT = 60, 100
HOLE = "M30 5a4 4 0 1 0 0 8a4 4 0 1 0 0 -8Z"
FACE = {  # top and bottom of what a layer covers; the foot of the tile stays bare
    "lip": (0, 20),
    "upper": (0, 58),
    "band": (36, 64),
    "lower": (42, 100),
    "foot": (84, 100),
}
WHOLE = (0, 92)

SECTION_WIDTH, SECTION_EDGE = 128, 86  # the section itself ends at the edge; beyond it run the leaders
ROW, COAT, MARGIN = 56, 24, 8
SPANS = {"lip": (0.8, 1), "upper": (0.4, 1), "band": (0.3, 0.7), "lower": (0, 0.6), "foot": (0, 0.2)}

# What a pencil would show on the bare clay, by day and by night.
CLAY_INK = {"black": "#ffffff", "brown": "#ffffff"} | dict.fromkeys(
    ("white", "buff", "grey", "red", "speckled"), "#000000"
)

HATCHES = {  # width, height and strokes of one repeat
    "dip": (8, 6, "M0 3H8"),
    "brush": (9, 9, "M-1 10L10 -1M-1 1L1 -1M8 10L10 8"),
    "pour": (6, 8, "M3 0V8"),
    "spray": (7, 7, "M2 2h.01M5.5 5.5h.01"),
    "other": (10, 10, "M3 3L7 7M7 3L3 7"),
}


@dataclass(frozen=True)
class StackLayer:
    """One layer as it is drawn. What is not known (coats, method, colour) is None."""

    name: str
    kind: str = "glaze"
    coats: int | None = None
    method: str | None = None
    area: str = "whole"
    colour: str | None = None
    wiped_back: bool = False
    happened: str = ""


@dataclass(frozen=True)
class Hatch:
    """One repeat of a pattern."""

    width: int
    height: int
    strokes: str


@dataclass(frozen=True)
class Shape:
    """A drawn layer: outline, fill (a hex colour or none), hatch and the ink that shows on the fill."""

    number: int
    path: str
    fill: str | None
    hatch: Hatch | None
    ink: str
    dashed: bool
    title: str
    words: str
    leader: str = ""


@dataclass(frozen=True)
class Face:
    """A tile without a photo: bare clay with its layers as bands."""

    body: str
    outline: str
    bands: tuple[Shape, ...]
    desc: str


@dataclass(frozen=True)
class StackDrawing:
    """The section, with the outermost layer first, as it is seen."""

    width: int
    height: int
    body: str
    clay: str
    clay_words: str
    leader: str
    layers: tuple[Shape, ...]
    partial: bool
    desc: str


@dataclass(frozen=True)
class TileCard:
    """What hangs on the wall: the number, a photo or a drawing, at most two facts, the faults in words, and where."""

    number: str
    url: str
    photo_url: str | None = None
    body_colour: str | None = None
    layers: tuple[StackLayer, ...] = ()
    facts: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    note: str = ""
    mark: str = ""
    hangs: str = ""

    @property
    def face(self) -> Face:
        return tile_face(self.body_colour, self.layers)


def tile_face(body_colour: str | None, layers: Sequence[StackLayer]) -> Face:
    """The face of a tile drawn from its record: each layer covers its area, later ones step back a little.

    >>> tile_face("white", [StackLayer("Millrace Blue", area="upper")]).bands[0].words
    'coats not noted, method not noted, upper part'
    """
    body = _body(body_colour)
    bands, seen = [], dict[str, int]()
    for number, layer in enumerate(layers, start=1):
        area = layer.area if layer.area in FACE else "whole"
        top, bottom = FACE.get(area, WHOLE)
        step = min(7 * seen.get(area, 0), (bottom - top) // 2)
        seen[area] = seen.get(area, 0) + 1
        if bottom == TILE_HEIGHT:
            top += step
        else:
            bottom -= step
        hatched = _colour(layer.colour) is None
        bands.append(_shape(number, layer, _band(top, bottom), hatched=hatched, ground=CLAY_INK.get(body)))
    return Face(body, _band(0, TILE_HEIGHT), tuple(bands), _desc(body_colour, bands))


def stack(layers: Sequence[StackLayer], body_colour: str | None = None) -> StackDrawing:
    """The section from the clay outwards: each layer lies on whatever is beneath it, as thick as its coats.

    A layer without a count of coats is drawn as one coat; its words say that the count was not noted.
    """
    rows = len(layers) + 1
    height = rows * ROW
    clay_top = height - ROW + MARGIN
    spans = [SPANS.get(layer.area, (0, 1)) for layer in layers]
    edges = sorted({0, 1, *(edge for span in spans for edge in span)})
    columns = list(pairwise(edges))
    deep = [float(COAT) * min(max(layer.coats or 1, 1), 6) for layer in layers]
    highest = max(
        (sum(d for d, s in zip(deep, spans, strict=True) if _over(s, c)) for c in columns), default=0
    )
    scale = min(1.0, (clay_top - MARGIN) / highest) if highest else 1.0

    surface = dict.fromkeys(columns, float(clay_top))
    drawn = []
    for index, (layer, span, thick) in enumerate(zip(layers, spans, deep, strict=True)):
        under = [(column, surface[column]) for column in columns if _over(span, column)]
        thick *= scale
        for column, y in under:
            surface[column] = y - thick
        (_left, right), ground = under[-1]
        leader = _leader(right * SECTION_EDGE, ground - thick / 2, (rows - 2 - index + 0.5) * ROW)
        drawn.append(_shape(index + 1, layer, _section(under, thick), hatched=True, leader=leader))
    return StackDrawing(
        width=SECTION_WIDTH,
        height=height,
        body=_body(body_colour),
        clay=f"M0 {clay_top}H{SECTION_EDGE}V{height}H0Z",
        clay_words=_clay_words(body_colour),
        leader=_leader(SECTION_EDGE, (clay_top + height) / 2, height - ROW / 2),
        layers=tuple(reversed(drawn)),
        partial=any(span != (0, 1) for span in spans),
        desc=_desc(body_colour, drawn),
    )


def _shape(
    number: int, layer: StackLayer, path: str, *, hatched: bool, ground: str | None = None, leader: str = ""
) -> Shape:
    fill = None if layer.kind == "wax" else _colour(layer.colour)
    hatch = Hatch(*HATCHES.get(layer.method, HATCHES["other"])) if hatched and layer.method else None
    return Shape(
        number=number,
        path=path,
        fill=fill,
        hatch=None if layer.kind == "wax" else hatch,
        ink=_ink(fill) or ground or "currentColor",
        dashed=layer.wiped_back or layer.kind == "wax" or layer.coats is None,
        title=f"{number} {layer.name}",
        words=", ".join(filter(None, (_how(layer), layer.happened))),
        leader=leader,
    )


def _how(layer: StackLayer) -> str:
    return layer_words(layer.kind, layer.coats, layer.method, layer.area, layer.wiped_back)


def _band(top: float, bottom: float) -> str:
    """A strip across the tile, rounded at the tile's ends, sagging a little at a free edge, the hole cut."""
    start = (
        f"M0 2Q0 0 2 0H{TILE_WIDTH - 2}Q60 0 60 2" if top <= 0 else f"M0 {top:g}Q30 {top + 2:g} 60 {top:g}"
    )
    end = (
        f"V98Q60 100 {TILE_WIDTH - 2} 100H2Q0 100 0 98Z"
        if bottom >= TILE_HEIGHT
        else f"V{bottom:g}Q30 {bottom + 2:g} 0 {bottom:g}Z"
    )
    return start + end + (HOLE if top <= 0 else "")


def _section(under: list[tuple[tuple[float, float], float]], thick: float) -> str:
    """A layer of even thickness over stepped ground: to the right along its top, back along its ground."""
    top = " ".join(f"L{_x(a)} {y - thick:.1f}L{_x(b)} {y - thick:.1f}" for (a, b), y in under)
    ground = " ".join(f"L{_x(b)} {y:.1f}L{_x(a)} {y:.1f}" for (a, b), y in reversed(under))
    return "M" + top[1:] + " " + ground + "Z"


def _x(share: float) -> str:
    return f"{share * SECTION_EDGE:.1f}"


def _leader(x: float, y: float, row_y: float) -> str:
    return f"M{x:.1f} {y:.1f}H{SECTION_EDGE + 6}L{SECTION_WIDTH - 12} {row_y:.1f}H{SECTION_WIDTH}"


def _over(span: tuple[float, float], column: tuple[float, float]) -> bool:
    return span[0] <= column[0] and column[1] <= span[1]


def _colour(colour: str | None) -> str | None:
    """A swatch only when it is #rrggbb: it goes into an attribute."""
    return colour if colour and re.fullmatch(r"#[0-9a-fA-F]{6}", colour) else None


def _ink(fill: str | None) -> str | None:
    """Black or white strokes, whichever is seen on the fill."""
    if fill is None:
        return None
    red, green, blue = (int(fill[i : i + 2], 16) for i in (1, 3, 5))
    return "#000000" if 0.3 * red + 0.59 * green + 0.11 * blue > 110 else "#ffffff"


def _body(colour: str | None) -> str:
    return colour if colour in BODY_COLOURS else "unknown"


def _clay_words(colour: str | None) -> str:
    return str(BODY_COLOURS[colour]) if colour in BODY_COLOURS else _("clay of unknown colour")


def _desc(body_colour: str | None, drawn: Sequence[Shape]) -> str:
    clay = _clay_words(body_colour)
    if not drawn:
        return _("Bare: %(clay)s.") % {"clay": clay}
    layers = "; ".join(f"{shape.title}, {shape.words}" for shape in drawn)
    return _("From the clay outwards: %(clay)s; %(layers)s.") % {"clay": clay, "layers": layers}
