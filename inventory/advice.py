"""What a specific gravity asks for: nothing, water in, or water off the top."""

from decimal import Decimal
from typing import Any

from inventory.calc.slurry import water_to_add_ml
from inventory.models import Glaze


def advice(glaze: Glaze, sg: Decimal, volume_ml: Decimal | None) -> dict[str, Any]:
    """`side` of the window ('', 'thin', 'thick', 'within') and the water to its middle in mL, where it can be said."""
    low, high = glaze.sg_low, glaze.sg_high
    if low is None or high is None:
        return {"side": ""}
    if low <= sg <= high:
        return {"side": "within"}
    middle = (low + high) / 2
    found: dict[str, Any] = {"side": "thin" if sg < low else "thick", "middle": middle}
    if volume_ml is not None and volume_ml > 0:
        water = Decimal(water_to_add_ml(volume_ml, sg, middle))
        found |= {"water_ml": two_figures(abs(water)), "volume_ml": volume_ml}
    return found


def two_figures(volume: Decimal) -> Decimal:
    """A bucket's volume by eye is good for no more.

    >>> two_figures(Decimal("2346")), two_figures(Decimal("87.3"))
    (Decimal('2300'), Decimal('87'))
    """
    return Decimal(f"{volume:.1e}").quantize(Decimal(1))
