"""A QR code as one SVG path: an attribute, no style, so that it prints under a strict content policy."""

from dataclasses import dataclass

import segno

QUIET_ZONE = 4  # modules, ISO/IEC 18004


@dataclass(frozen=True)
class QrPath:
    """`size` is the side of the viewBox in modules, quiet zone included; `d` draws the dark ones."""

    size: int
    d: str


def qr_path(text: str) -> QrPath:
    """The code of `text` with error correction M (about 15 % of it may be splashed).

    29 bytes want version 3 at level M, 29 modules wide (ISO/IEC 18004, table 7).

    >>> qr_path("https://clay.example/b/K7QM2P").size == 29 + 2 * QUIET_ZONE
    True
    """
    rows = list(segno.make(text, error="m", micro=False).matrix_iter(border=QUIET_ZONE))
    dark = [f"M{x} {y}h1v1h-1z" for y, row in enumerate(rows) for x, module in enumerate(row) if module]
    return QrPath(len(rows), "".join(dark))
