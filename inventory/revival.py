"""How much water a dried fill wants: an estimate with its range."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from inventory.advice import two_figures
from inventory.calc.slurry import dry_g_per_l, water_for_dry_ml, water_to_add_ml

# Of glaze powders: 2.5 to 2.65 by source, some materials denser (inventory/calc/slurry.py).
DENSITIES = (2.5, 2.6, 2.7)


@dataclass(frozen=True)
class Reckoned:
    """Water to add in mL with its low and high end, and the dry glaze in g that it was reckoned for."""

    water_ml: Decimal
    low_ml: Decimal
    high_ml: Decimal
    dry_g: Decimal | None
    target: Decimal


def reckon(
    *,
    known: str,
    target: Decimal,
    dry_g: Decimal | None = None,
    volume_ml: Any = None,
    specific_gravity: Any = None,
) -> Reckoned:
    """`known`: 'dry' the dry glaze's mass, 'was' the slurry before it dried right out, 'is' what there still is."""
    if known == "is":
        waters = [water_to_add_ml(volume_ml, specific_gravity, target)] * 3
        dry = None
    else:
        masses = [
            float(dry_g)
            if known == "dry" and dry_g is not None
            else dry_g_per_l(specific_gravity, density) * float(volume_ml) / 1000
            for density in DENSITIES
        ]
        waters = [water_for_dry_ml(mass, target, d) for mass, d in zip(masses, DENSITIES, strict=True)]
        dry = two_figures(Decimal(masses[1]))
    low, middle, high = (two_figures(Decimal(water)) for water in waters)
    return Reckoned(middle, min(low, middle, high), max(low, middle, high), dry, target)
