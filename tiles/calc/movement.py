"""How far a glaze moved down its tile, in words.

The limits are this project's own: a millimetre is what a ruler on a hung tile tells from nothing, and five is about
the bare foot that is commonly left below a glaze (common practice), so that more would reach the shelf.
"""

from decimal import Decimal

NONE_BELOW_MM = Decimal(1)
LITTLE_UP_TO_MM = Decimal(5)


def movement_word(moved_mm: Decimal | None) -> str | None:
    """'none' below 1 mm, 'little' from 1 to 5 mm, 'lot' above; None where nobody measured.

    >>> [movement_word(Decimal(mm)) for mm in ("0.9", "1", "5", "5.1")]
    ['none', 'little', 'little', 'lot']
    """
    if moved_mm is None:
        return None
    if moved_mm < NONE_BELOW_MM:
        return "none"
    return "little" if moved_mm <= LITTLE_UP_TO_MM else "lot"
