"""A coat on the tile: where it lies, how thick, how it ran, and its colour over what is beneath."""

import numpy as np

from tiles.drawn.field import BOTTOM, LEFT, RIGHT, TOP, Field, blur, dots, grid, linear, noise, step
from tiles.drawn.look import HIDING, Coat

FOOT_MM = 13.0  # left bare
# From .. to of each area, in mm from the tile's top.
LENGTH = BOTTOM - TOP
AREAS = {
    "whole": (-5.0, LENGTH - FOOT_MM),
    "upper": (-5.0, LENGTH * 0.56),
    "lower": (LENGTH * 0.44, LENGTH - FOOT_MM),
    "band": (LENGTH * 0.40, LENGTH * 0.62),
    "lip": (-5.0, LENGTH * 0.14),
    "foot": (LENGTH * 0.72, LENGTH + 5.0),
}


def thickness(coat: Coat, rng: np.random.Generator, stands_out: Field) -> Field:
    """Fired thickness of the coat in mm: thin on what stands out, thick in hollows and where it ran."""
    y = grid()[1]
    first, last = AREAS.get(coat.area, AREAS["whole"])
    wobble = 0.7 * noise(rng, 16, 16, octaves=2)[0]
    ran = _runs(rng) * coat.movement_mm
    below = TOP + last + wobble + ran - y
    above = y - (TOP + first + 0.7 * wobble[::-1])
    covered = step(below, -0.15, 0.7) * step(above, -0.15, 0.7)
    moved = min(1.0, coat.movement_mm / 12)
    down = (y - TOP) / LENGTH
    amount = 1 + moved * (0.75 * down - 0.4) + 0.10 * noise(rng, 5, 9)
    # Where it ran past its line a thin film with a fat rim is left.
    past = step(y - (TOP + last), 0, 2.0)
    rim = np.exp(-(((below - 1.3) / 0.9) ** 2))
    amount = amount - 0.25 * past * moved + (0.25 + 0.9 * moved) * rim
    amount = amount * (1 - (0.45 + 0.25 * moved) * stands_out)
    return (np.clip(amount, 0.03, 3.5) * covered * coat.thickness_mm).astype(np.float32)


def standing_out(clay: Field) -> Field:
    """1 on edges and ridges, -1.2 in hollows, 0 where the clay is flat."""
    return np.clip((clay - blur(clay, 0.9)) / np.float32(0.11), -1.2, 1)


def _runs(rng: np.random.Generator) -> Field:
    """How far each column ran, as a share of the longest run: a few drips, less between them."""
    x = grid()[0][0]
    found = np.full_like(x, 0.22)
    for _drip in range(rng.integers(4, 8)):
        middle, width = rng.uniform(LEFT, RIGHT), rng.uniform(2.0, 4.5)
        found = np.maximum(found, rng.uniform(0.45, 1.0) * np.exp(-(((x - middle) / width) ** 4)))
    return found / found.max()


def lay(coat: Coat, rng: np.random.Generator, under: Field, thick: Field, glaze_under: Field) -> Field:
    """Linear light after this coat over `under`; where glaze lies beneath (`glaze_under`, mm) the two mingle."""
    units = thick / np.float32(0.5)
    clouds = noise(rng, 7, 11)
    streaks = noise(rng, 1.5, 9 + 1.2 * coat.movement_mm, octaves=2)
    over_glaze = step(glaze_under, 0.05, 0.25)
    units = units * (1 + 0.25 * clouds * coat.mottle + 0.75 * streaks * over_glaze * coat.mottle)
    tone = step(units, 0.25, 1.05)[..., None]
    colour = linear(coat.thin_colour) * (1 - tone) + linear(coat.colour) * tone
    colour = colour * (1 + coat.mottle * (0.16 * clouds + 0.10 * streaks))[..., None]
    if coat.speckle:
        spots = step(dots(rng, 45 * coat.speckle, 0.15, 0.6, thick), 0.05, 0.8)
        colour = colour * (1 - 0.7 * spots)[..., None]
    # What is not hidden is seen through stained glass.
    stain = np.clip(linear(coat.colour) / linear(coat.colour).max(), 0.05, 1)
    through = under * stain ** (0.55 * np.clip(units, 0, 3))[..., None]
    hidden = (1 - np.exp(-HIDING[coat.opacity] * np.clip(units, 0, None)))[..., None]
    return (through * (1 - hidden) + colour * hidden).astype(np.float32)
