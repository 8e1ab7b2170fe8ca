"""The bare tile: its outline, what was pressed or combed into it, its grain and colour."""

import numpy as np

from tiles.drawn.field import BOTTOM, HOLE, LEFT, RIGHT, TOP, Field, dots, grid, linear, noise, step
from tiles.drawn.look import TileLook

CORNER_MM, ROUNDING_MM = 3.0, 2.2
COMBED = (38.0, 58.0)  # from .. to, in mm from the top


def depth_inside() -> Field:
    """How far inside the tile's outline each point lies, in mm; below 0 outside and in the hole."""
    x, y = grid()
    across = np.abs(x - (LEFT + RIGHT) / 2) - ((RIGHT - LEFT) / 2 - CORNER_MM)
    down = np.abs(y - (TOP + BOTTOM) / 2) - ((BOTTOM - TOP) / 2 - CORNER_MM)
    outside = np.hypot(np.maximum(across, 0), np.maximum(down, 0))
    slab = CORNER_MM - outside - np.minimum(np.maximum(across, down), 0)
    hole = np.hypot(x - HOLE[0], y - HOLE[1]) - HOLE[2]
    return np.minimum(slab, hole).astype(np.float32)


def relief(look: TileLook, rng: np.random.Generator, inside: Field) -> Field:
    """Height of the clay in mm: a slab with rounded edges, never quite flat."""
    short = np.clip(ROUNDING_MM - inside, 0, ROUNDING_MM)
    height = 1.6 - short**2 / ROUNDING_MM + 0.12 * noise(rng, 26, octaves=2)
    height = height + PRESSED.get(look.texture, _plain)(rng)
    return (height + (0.012 + 0.05 * look.grit) * noise(rng, 0.7, octaves=2)).astype(np.float32)


def _plain(rng: np.random.Generator) -> Field:
    return np.zeros_like(grid()[0])


def _combed(rng: np.random.Generator) -> Field:
    """Lines drawn with a comb while the clay was soft: glaze breaks over them and pools between."""
    x, y = grid()
    wander = 1.1 * noise(rng, 14, 30, octaves=1)
    band = step(y, COMBED[0], COMBED[0] + 1.5) * (1 - step(y, COMBED[1] - 1.5, COMBED[1]))
    return (band * 0.42 * (np.abs(np.sin((x + wander) * np.pi / 3.4)) - 0.64)).astype(np.float32)


def _stamped(rng: np.random.Generator) -> Field:
    """Two rows of rings from the end of a tube."""
    x, y = grid()
    found = np.zeros_like(x)
    for row, at_y in enumerate((42.0, 53.0)):
        for i in range(5):
            at_x = LEFT + 8.5 + i * 11.5 + row * 3 + rng.normal(0, 0.4)
            ring = np.hypot(x - at_x, y - at_y - rng.normal(0, 0.4)) - 3.6
            found -= 0.5 * np.exp(-((ring / 0.55) ** 2))
    return found


PRESSED = {"combed": _combed, "stamped": _stamped}


def clay_colour(look: TileLook, rng: np.random.Generator) -> Field:
    """Linear light of the bare fired clay, with its specks."""
    tone = 1 + 0.05 * noise(rng, 9) + 0.04 * noise(rng, 0.5, octaves=1)
    colour = linear(look.body_colour) * tone[..., None]
    if look.grit > 0.2:
        specks = dots(rng, 60 * look.grit, 0.12, 0.45, np.ones_like(tone))
        colour = colour * (1 - 0.75 * step(specks, 0.1, 0.7)[..., None])
    return colour.astype(np.float32)
