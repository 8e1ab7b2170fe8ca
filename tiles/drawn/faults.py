"""What went wrong: marks on the coats' thickness, the height and the colour."""

from dataclasses import dataclass

import numpy as np

from tiles.drawn.field import BOTTOM, HEIGHT, PX_PER_MM, TOP, WIDTH, Field, dots, grid, noise, step
from tiles.drawn.look import TileLook


@dataclass
class Marks:
    """What the faults take from the glaze (0..1), add to the height (mm), and leave of the colour (0..1)."""

    bare: Field
    bump: Field
    shade: Field
    bloom: Field


def marks(look: TileLook, rng: np.random.Generator, thick: Field, overlap: Field, inside: Field) -> Marks:
    """All the faults of the look; a kind that has no drawing leaves no mark."""
    none = np.zeros_like(thick)
    found = Marks(none.copy(), none.copy(), none + 1, none.copy())
    for kind, where in look.faults:
        if draw := DRAWN.get(kind):
            draw(found, rng, _place(where, overlap, inside), thick)
    return found


def _place(words: str, overlap: Field, inside: Field) -> Field:
    """1 where the words say that the fault is; all over if they say nothing that can be drawn."""
    _x, y = grid()
    down = (y - TOP) / (BOTTOM - TOP)
    said = words.lower()
    if any(word in said for word in ("overlap", "where the two", "meet")):
        return overlap
    if any(word in said for word in ("lower", "foot", "bottom")):
        return step(down, 0.5, 0.62)
    if any(word in said for word in ("upper", "top", "lip", "rim")):
        return 1 - step(down, 0.34, 0.46)
    if "edge" in said:
        return 1 - step(inside, 3.0, 5.0)
    return np.ones_like(y)


def cells(rng: np.random.Generator, size_mm: float) -> Field:
    """Distance in mm to the nearest border between scattered cells: the pattern of cracks."""
    size = size_mm * PX_PER_MM
    rows, columns = int(HEIGHT / size) + 3, int(WIDTH / size) + 3
    spots = rng.random((rows, columns, 2), dtype=np.float32)
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH].astype(np.float32)
    y, x = y / np.float32(size) + 1, x / np.float32(size) + 1
    row, column = y.astype(np.int32), x.astype(np.int32)
    first, second = np.full_like(x, 9), np.full_like(x, 9)
    for dy in (-1, 0, 1):
        for dx in (-1, 0, 1):
            spot = spots[row + dy, column + dx]
            far = (row + dy + spot[..., 0] - y) ** 2 + (column + dx + spot[..., 1] - x) ** 2
            second = np.minimum(second, np.maximum(first, far))
            first = np.minimum(first, far)
    return (np.sqrt(second) - np.sqrt(first)) * np.float32(size_mm / 2)


def _crazing(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    lines = np.maximum(1 - step(cells(rng, 7), 0.04, 0.16), 0.6 * (1 - step(cells(rng, 3.4), 0.02, 0.11)))
    lines = lines * place * step(thick, 0.08, 0.2)
    found.shade *= 1 - 0.5 * lines
    found.bump -= 0.008 * lines


def _crawling(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    lumps = noise(rng, 9, octaves=2) - (1 - place)
    found.bare = np.maximum(found.bare, step(lumps, 0.22, 0.27))
    found.bump += 0.5 * np.exp(-(((lumps - 0.17) / 0.05) ** 2)) * step(thick, 0.08, 0.2)


def _pinholing(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    pits = dots(rng, 3.2, 0.25, 0.55, place * thick)
    found.bump -= 0.35 * step(pits, 0.0, 0.7)
    found.bare = np.maximum(found.bare, step(pits, 0.45, 0.7))
    found.shade *= 1 - 0.45 * step(pits, 0.3, 0.8)


def _blistering(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    bubbles = dots(rng, 1.3, 0.8, 2.1, place * thick)
    found.bump += 0.5 * np.sqrt(bubbles) - 1.3 * step(bubbles, 0.78, 0.92)
    found.shade *= 1 - 0.5 * step(bubbles, 0.8, 0.95)


def _shivering(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    flakes = cells(rng, 6)
    picked = step(noise(rng, 7, octaves=1), 0.25, 0.3) * place
    found.bare = np.maximum(found.bare, picked * step(flakes, 0.1, 0.2))


def _orange_peel(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    found.bump += 0.07 * noise(rng, 1.6, octaves=1) * place


def _bloating(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    found.bump += 1.6 * dots(rng, 0.16, 4, 8, place) ** 1.5


def _crystals(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    found.bloom = np.maximum(
        found.bloom, 0.5 * step(noise(rng, 5), 0.05, 0.5) * place * step(thick, 0.1, 0.3)
    )


def _dunting(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    x, y = grid()
    path = TOP + 0.4 * (BOTTOM - TOP) + 0.5 * x + 3 * noise(rng, 12)[0] - y
    crack = np.exp(-((path / 0.2) ** 2))
    found.shade *= 1 - 0.85 * crack
    found.bump -= 0.4 * crack


def _dry(found: Marks, rng: np.random.Generator, place: Field, thick: Field) -> None:
    found.bump += 0.05 * noise(rng, 0.5, octaves=1) * place
    found.bloom = np.maximum(found.bloom, 0.18 * place * step(thick, 0.05, 0.2))


DRAWN = {
    "crazing": _crazing,
    "crawling": _crawling,
    "pinholing": _pinholing,
    "spit_out": _pinholing,
    "blistering": _blistering,
    "shivering": _shivering,
    "orange_peel": _orange_peel,
    "bloating": _bloating,
    "devitrification": _crystals,
    "dunting": _dunting,
    "underfired": _dry,
    "etching": _dry,
}
