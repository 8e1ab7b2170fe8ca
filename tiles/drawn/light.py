"""Daylight on the tile: shade by slope, a window mirrored by gloss, and the grey on which the tile lies."""

import numpy as np

from tiles.drawn.field import PX_PER_MM, Field, blur, noise, step

ROOM = 0.43  # about Munsell N7
SUN = np.array([-0.42, -0.55, 0.72], np.float32)
# Strength of the mirrored window, and how blurred its frame is.
SHINE = {"glossy": (0.62, 0.05), "satin": (0.16, 0.32), "matte": (0.04, 0.6), "dry": (0.0, 1.0)}
WINDOW = (
    -0.30,
    -0.42,
    0.20,
    0.26,
)  # middle across, down; half width, half height, as slopes of the mirrored ray


def light(colour: Field, height: Field, shine: Field, surface: str, rng: np.random.Generator) -> Field:
    """The colour as it is seen: `shine` is 1 where glaze lies and 0 on bare clay."""
    down, across = np.gradient(height, 1 / PX_PER_MM)
    length = np.sqrt(1 + across**2 + down**2)
    nx, ny, nz = -across / length, -down / length, 1 / length
    lit = np.clip(nx * SUN[0] + ny * SUN[1] + nz * SUN[2], 0, None) / SUN[2]
    seen = colour * (0.38 + 0.62 * lit)[..., None]
    strength, frame = SHINE[surface]
    facing = np.maximum(2 * nz * nz - 1, 0.15)
    mirrored = _window(2 * nz * nx / facing, 2 * nz * ny / facing, frame)
    sky = 0.055 * strength * (1 - nz + 0.25)
    return (seen + (shine * (strength * mirrored + sky))[..., None]).astype(np.float32)


def _window(across: Field, down: Field, frame: float) -> Field:
    middle_x, middle_y, half_x, half_y = WINDOW
    inside_x = half_x - np.abs(across - middle_x)
    inside_y = half_y - np.abs(down - middle_y)
    return step(inside_x, -frame, frame) * step(inside_y, -frame, frame)


def on_grey(tile: Field, inside: Field, rng: np.random.Generator) -> Field:
    """The tile on neutral grey, with the shadow that it throws to the right and down."""
    solid = step(inside, -0.06, 0.06)
    shadow = np.roll(blur(solid, 1.1), (14, 9), axis=(0, 1))
    room = ROOM * (1 - 0.5 * shadow) * (1 + 0.01 * noise(rng, 40, octaves=1))
    seen = tile * solid[..., None] + (room * (1 - solid))[..., None]
    return (seen * (1 + 0.006 * rng.standard_normal(solid.shape, dtype=np.float32))[..., None]).astype(
        np.float32
    )
