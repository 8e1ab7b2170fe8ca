"""A kiln cut open: its shelves from the top down, each with its offset and interval. Geometry for `_kiln_map.html`."""

from collections.abc import Sequence
from dataclasses import dataclass

from tiles.calc.kiln_offset import ShelfOffset
from tiles.kiln_sentences import firings_words, offset_words, side_words

WIDTH, ROW, HEAD = 340, 66, 30
LEFT, RIGHT = 14, 326
LEAST_C = 20  # of the scale, each way


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One shelf as it is drawn; without history only its name and words are."""

    y: int
    position: str
    words: str
    firings: str
    known: bool
    x: float
    low_x: float
    high_x: float

    @property
    def text_y(self) -> int:
        return self.y + 18

    @property
    def words_y(self) -> int:
        return self.y + 35

    @property
    def bar_y(self) -> int:
        return self.y + 50

    @property
    def floor_y(self) -> int:
        return self.y + ROW

    @property
    def bar_width(self) -> float:
        return round(max(self.high_x - self.low_x, 2), 1)


@dataclass(frozen=True, slots=True)
class KilnMap:
    """The whole drawing. The middle line is what the instrument says."""

    height: int
    middle_x: float
    rows: tuple[ShelfRow, ...]
    cooler: str
    hotter: str

    @property
    def is_known(self) -> bool:
        return any(row.known for row in self.rows)


def kiln_map(shelves: Sequence[ShelfOffset]) -> KilnMap:
    known = [shelf for shelf in shelves if shelf.cones]
    reach = max([LEAST_C, *(abs(end) for shelf in known for end in (shelf.low_c, shelf.high_c))])
    reach = 10 * -(-reach // 10)

    def x(celsius: float) -> float:
        return round((LEFT + RIGHT) / 2 + celsius / reach * (RIGHT - LEFT) / 2, 1)

    rows = tuple(
        ShelfRow(
            y=HEAD + n * ROW,
            position=shelf.position,
            words=offset_words(shelf),
            firings=firings_words(shelf.firings),
            known=bool(shelf.cones),
            x=x(shelf.median_c),
            low_x=x(shelf.low_c),
            high_x=x(shelf.high_c),
        )
        for n, shelf in enumerate(shelves)
    )
    return KilnMap(HEAD + ROW * len(rows) + 4, x(0), rows, side_words(-reach), side_words(reach))
