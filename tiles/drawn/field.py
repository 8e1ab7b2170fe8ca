"""The grid on which a tile is drawn, and the noise, blurs and steps that the other files share."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Field = NDArray[np.float32]

PX_PER_MM = 7.2
WIDTH, HEIGHT = 540, 900
SHAPE = (HEIGHT, WIDTH)
# The tile within the picture, in mm from its left upper corner.
LEFT, TOP, RIGHT, BOTTOM = 2.0, 2.0, WIDTH / PX_PER_MM - 2.0, HEIGHT / PX_PER_MM - 2.5
HOLE = ((LEFT + RIGHT) / 2, TOP + 8.0, 2.6)


@lru_cache(1)
def grid() -> tuple[Field, Field]:
    """x and y of every pixel's middle, in mm; x grows to the right, y downwards."""
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH].astype(np.float32)
    return (x + 0.5) / np.float32(PX_PER_MM), (y + 0.5) / np.float32(PX_PER_MM)


def step(value: Field, low: float, high: float) -> Field:
    """0 below `low`, 1 above `high`, smooth between."""
    t = np.clip((value - low) / np.float32(high - low), 0, 1)
    return t * t * (3 - 2 * t)


def noise(
    rng: np.random.Generator, across_mm: float, down_mm: float | None = None, octaves: int = 3
) -> Field:
    """Smooth noise from -1 to 1, its largest lumps `across_mm` wide and `down_mm` tall."""
    found = np.zeros(SHAPE, np.float32)
    size, weight, total = (across_mm, down_mm or across_mm), 1.0, 0.0
    for _octave in range(octaves):
        found += np.float32(weight) * _lumps(rng, *size)
        total += weight
        size, weight = (size[0] / 2, size[1] / 2), weight / 2
    return found / np.float32(total)


def _lumps(rng: np.random.Generator, across_mm: float, down_mm: float) -> Field:
    across, down = max(2, round(across_mm * PX_PER_MM)), max(2, round(down_mm * PX_PER_MM))
    columns, rows = WIDTH // across + 3, HEIGHT // down + 3
    small = Image.fromarray(rng.random((rows, columns), dtype=np.float32) * 2 - 1)
    large = small.resize((columns * across, rows * down), Image.Resampling.BICUBIC)
    return np.asarray(large, np.float32)[down : down + HEIGHT, across : across + WIDTH]


def blur(value: Field, radius_mm: float) -> Field:
    """Three running means, near enough to a bell; on a smaller grid, for what is blurred needs no finer."""
    radius = radius_mm * PX_PER_MM
    shrink = max(2, int(radius / 3))
    size = (WIDTH // shrink, HEIGHT // shrink)
    small = np.asarray(Image.fromarray(value).resize(size, Image.Resampling.BOX), np.float32)
    for _pass in range(3):
        for axis in (0, 1):
            small = _running_mean(small, max(1, round(radius / shrink)), axis)
    return np.asarray(Image.fromarray(small).resize((WIDTH, HEIGHT), Image.Resampling.BICUBIC), np.float32)


def _running_mean(value: Field, radius: int, axis: int) -> Field:
    pad = [(0, 0), (0, 0)]
    pad[axis] = (radius + 1, radius)
    total = np.cumsum(np.pad(value, pad, "edge"), axis=axis, dtype=np.float64)
    width = 2 * radius + 1
    difference = total[width:] - total[:-width] if axis == 0 else total[:, width:] - total[:, :-width]
    return (difference / width).astype(np.float32)


def dots(rng: np.random.Generator, per_cm2: float, low_mm: float, high_mm: float, where: Field) -> Field:
    """Round spots, 1 in the middle and 0 at the rim, scattered where `where` is not 0."""
    found = np.zeros(SHAPE, np.float32)
    count = round(per_cm2 * WIDTH * HEIGHT / (PX_PER_MM * 10) ** 2)
    for at_y, at_x, chance in rng.random((count, 3)):
        y, x = int(at_y * HEIGHT), int(at_x * WIDTH)
        if where[y, x] <= 0:
            continue
        radius = (low_mm + (high_mm - low_mm) * chance**2) * PX_PER_MM
        reach = int(np.ceil(radius))
        rows, columns = slice(max(0, y - reach), y + reach + 1), slice(max(0, x - reach), x + reach + 1)
        yy, xx = np.ogrid[rows.start : min(HEIGHT, rows.stop), columns.start : min(WIDTH, columns.stop)]
        spot = np.clip(1 - ((yy - y) ** 2 + (xx - x) ** 2) / radius**2, 0, 1)
        found[rows, columns] = np.maximum(found[rows, columns], spot)
    return found


def linear(colour: str) -> Field:
    """'#rrggbb' as linear light, 0 to 1 (IEC 61966-2-1)."""
    coded = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)], np.float32) / 255
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4).astype(np.float32)


def coded(light: Field) -> NDArray[np.uint8]:
    """Linear light as sRGB bytes (IEC 61966-2-1)."""
    light = np.clip(light, 0, 1)
    value = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(value * 255).astype(np.uint8)
