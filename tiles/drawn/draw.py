"""From a look to a JPEG."""

import io

import numpy as np
from PIL import Image

from tiles.drawn.clay import clay_colour, depth_inside, relief
from tiles.drawn.faults import marks
from tiles.drawn.field import Field, blur, coded, noise, step
from tiles.drawn.glaze import lay, standing_out, thickness
from tiles.drawn.light import light, on_grey
from tiles.drawn.look import TileLook

ROUGH_MM = {"glossy": 0.0, "satin": 0.004, "matte": 0.010, "dry": 0.030}


def pixels(look: TileLook) -> np.ndarray:
    """The tile on grey, rows x columns x 3 bytes of sRGB."""
    # One stream for each part, so that another fault leaves the clay as it is.
    shape, stain, *streams = (np.random.default_rng([look.seed, i]) for i in range(5 + len(look.coats)))
    wrong, room, skin, *coat_streams = streams
    inside = depth_inside()
    clay = relief(look, shape, inside)
    bare = clay_colour(look, stain)
    colour, total = bare, np.zeros_like(clay)
    overlap, edges = np.zeros_like(clay), standing_out(clay)
    for coat, rng in zip(look.coats, coat_streams, strict=True):
        thick = thickness(coat, rng, edges)
        overlap = np.maximum(overlap, step(np.minimum(total, thick), 0.05, 0.2))
        colour = lay(coat, rng, colour, thick, total)
        total = total + thick
    seen = marks(look, wrong, total, overlap, inside)
    total = total * (1 - seen.bare)
    colour = colour * (1 - seen.bare)[..., None] + bare * seen.bare[..., None]
    colour = colour * seen.shade[..., None] + (seen.bloom * 0.55)[..., None] * (1 - colour)
    height = _filled(clay, total) + seen.bump + ROUGH_MM[look.surface] * noise(skin, 0.5, octaves=1)
    lit = light(colour, height, step(total, 0.04, 0.14), look.surface, room)
    return coded(on_grey(lit, inside, room))


def _filled(clay: Field, total: Field) -> Field:
    """Molten glaze levels what is fine beneath it."""
    smooth = step(total, 0.05, 0.6)
    return clay * (1 - smooth) + blur(clay, 0.5) * smooth + blur(total, 0.25)


def draw(look: TileLook) -> bytes:
    """The drawing as a JPEG file; the same bytes for the same look."""
    out = io.BytesIO()
    Image.fromarray(pixels(look)).save(out, "JPEG", quality=88)
    return out.getvalue()
