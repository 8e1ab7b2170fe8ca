"""What a drawing is made from: a clay body, the coats over it from the clay outwards, and what went wrong."""

from dataclasses import dataclass

SURFACES = ("glossy", "satin", "matte", "dry")
# How much of what lies beneath a coat half a millimetre thick hides, as an optical depth.
HIDING = {"transparent": 0.07, "translucent": 0.9, "opaque": 3.2, "": 2.0}


@dataclass(frozen=True, slots=True)
class Coat:
    """One layer as it came out of the kiln.

    colour, thin_colour: '#rrggbb' where it lies thick and where it breaks over an edge.
    opacity: transparent, translucent or opaque. area: as on a layer (whole, upper, lower, band, ...).
    thickness_mm: 0.1 to 2. movement_mm: how far its lower edge ran. speckle, mottle: 0 (none) to 1.
    """

    colour: str
    thin_colour: str
    opacity: str = "opaque"
    area: str = "whole"
    thickness_mm: float = 0.5
    movement_mm: float = 0.0
    speckle: float = 0.0
    mottle: float = 0.3


@dataclass(frozen=True, slots=True)
class TileLook:
    """A tile to be drawn. faults: (kind, where in words); texture: combed, stamped or plain; grit: 0 to 1."""

    seed: int
    body_colour: str
    coats: tuple[Coat, ...] = ()
    surface: str = "glossy"
    faults: tuple[tuple[str, str], ...] = ()
    texture: str = "combed"
    grit: float = 0.1

    def __post_init__(self) -> None:
        if self.surface not in SURFACES:
            raise ValueError(f"surface is one of {', '.join(SURFACES)}, not {self.surface!r}")
        for coat in self.coats:
            if coat.opacity not in HIDING:
                raise ValueError(f"opacity is transparent, translucent or opaque, not {coat.opacity!r}")
