"""The curve of a firing as a drawing: geometry for `tiles/_curve.html`, once for a phone and once for a desk.

Everything is in units of the drawing's own viewBox, which is about as wide as the page shows it, so that 16 is the
size of the words on screen. Nothing depends on colour: the plan is dashed, the log is drawn through.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, isnan

from studio import units
from tiles.calc.downsample import downsample
from tiles.curves import Curve, Fall

HOUR_STEPS = (1, 2, 3, 4, 6, 8, 12, 24, 48, 72, 96)
DEGREE_STEPS = (50, 100, 200, 250, 400, 500)
LETTER = 9.5  # the width of a figure of 16
LEAST_SPELL = 3.0  # a spell of one reading is still to be seen


@dataclass(frozen=True, slots=True)
class Paper:
    """A size to draw for, and the margins around the plot."""

    name: str
    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    hour_gap: float
    points: int
    cells: int

    @property
    def plot_right(self) -> int:
        return self.width - self.right

    @property
    def plot_bottom(self) -> int:
        return self.height - self.bottom

    @property
    def plot_width(self) -> int:
        return self.plot_right - self.left

    @property
    def plot_height(self) -> int:
        return self.plot_bottom - self.top


# The side margins are those of .curve in tiles/static/tiles/curve.css.
NARROW = Paper("narrow", 320, 380, 46, 10, 52, 52, hour_gap=34, points=240, cells=12)
WIDE = Paper("wide", 960, 460, 56, 24, 52, 52, hour_gap=44, points=700, cells=32)


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on a scale: where, and what stands beside it ('' where there is no room)."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Span:
    x: float
    width: float


@dataclass(frozen=True, slots=True)
class CurveDrawing:
    """Paths and places.

    `cells` are the minutes in the middle of equal columns that can be tapped, `cursor` the x of the moment that is
    read, None when none is.
    """

    paper: Paper
    plan: str
    log: str
    hours: Sequence[Tick]
    degrees: Sequence[Tick]
    cones: Sequence[Tick]
    events: Sequence[Tick]
    spells: Sequence[Span]
    cells: Sequence[int]
    cursor: float | None
    unit: str


def draw(curve: Curve, paper: Paper, at_min: float | None = None) -> CurveDrawing:
    """The drawing of a curve that is not empty."""
    end, top = curve.end_min, _top(curve)

    def x(minute: float) -> float:
        return paper.left + min(max(minute / end, 0), 1) * paper.plot_width

    def y(celsius: float) -> float:
        return paper.plot_bottom - min(max(celsius / top, 0), 1) * paper.plot_height

    few = downsample(curve.minutes, curve.celsius, paper.points) if curve.has_log else ((), ())
    return CurveDrawing(
        paper=paper,
        plan=_line((x(m), y(c)) for m, c in zip(curve.plan_minutes, curve.plan_c, strict=True)),
        log=_line((x(m), y(c)) for m, c in zip(*few, strict=True)),
        hours=[Tick(x(hour * 60), str(hour)) for hour in _hours(end, paper)],
        degrees=[Tick(y(c), words) for c, words in _degrees(top, paper)],
        cones=_cones([(x(fall.minute), fall) for fall in curve.shown_falls]),
        events=[
            Tick(x(one.minute), str(number))
            for number, one in enumerate(curve.events, start=1)
            if one.minute is not None and 0 <= one.minute <= end
        ],
        spells=[_span(x(spell.from_min), x(spell.to_min)) for spell in curve.spells],
        cells=[round(end * (n + 0.5) / paper.cells) for n in range(paper.cells)],
        cursor=None if at_min is None else round(x(at_min), 1),
        unit=units.temperature_unit(),
    )


def _top(curve: Curve) -> float:
    """A round temperature above everything that is drawn."""
    return ceil((curve.hottest_c + 30) / 50) * 50


def _line(points: Iterable[tuple[float, float]]) -> str:
    """A path that begins anew after each NaN."""
    found, pen = [], "M"
    for x, y in points:
        if isnan(y):
            pen = "M"
            continue
        found.append(f"{pen}{x:.1f} {y:.1f}")
        pen = "L"
    return "".join(found)


def _hours(end_min: float, paper: Paper) -> range:
    an_hour = paper.plot_width / (end_min / 60)
    step = next((step for step in HOUR_STEPS if step * an_hour >= paper.hour_gap), HOUR_STEPS[-1])
    return range(0, floor(end_min / 60) + 1, step)


def _degrees(top_c: float, paper: Paper) -> Iterator[tuple[float, str]]:
    """Round figures in the unit that the person reads."""
    top = units.degrees(top_c)
    step = next((s for s in DEGREE_STEPS if s / top * paper.plot_height >= 40), DEGREE_STEPS[-1])
    for shown in range(0, floor(top) + 1, step):
        celsius = units.from_degrees(shown)
        if celsius >= 0:
            yield celsius, str(shown)


def _cones(falls: Sequence[tuple[float, Fall]]) -> list[Tick]:
    """A tick for each cone; words where there is room, the hottest first, because that is the one that is asked for."""
    found: list[Tick] = []
    free_to = float("inf")
    for x, fall in reversed(falls):
        half = len(fall.cone.label) * LETTER / 2
        has_room = x + half <= free_to
        free_to = x - half - LETTER if has_room else free_to
        found.append(Tick(round(x, 1), fall.cone.label if has_room else ""))
    return found[::-1]


def _span(left: float, right: float) -> Span:
    width = max(right - left, LEAST_SPELL)
    return Span(round(left, 1), round(width, 1))
