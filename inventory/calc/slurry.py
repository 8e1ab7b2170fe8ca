"""What a slurry's specific gravity (SG) says: dry powder per litre, solids, water to add.

SG here is mass over the same volume of water, water taken as 1 g/mL (at 20 °C it is 0.2 % less), and lies
in 1.00 < SG <= 2.50. Particle density is that of the dry powder, about 2.6 for most glazes: 2.5 to 2.65 by
source, feldspar 2.6, silica 2.65, whiting 2.7-2.9, lead glazes far more (Handbook for Australian Potters,
https://scribd.com/doc/187727916/Brongniarts-Formula-made-Easy-for-Ceramists).
"""

import re
from decimal import Decimal

LOWEST_SG = Decimal("1.00")  # water itself, not included
HIGHEST_SG = Decimal("2.50")
MEAN_PARTICLE_DENSITY = 2.6
_THOUSANDTH = Decimal("0.001")
_WRITTEN = re.compile(r"[-+]?(?:[0-9]{1,9}(?:[.,][0-9]{0,9})?|[.,][0-9]{1,9})")


class SgError(ValueError):
    """A value is no usable SG: `code` says why, `params` what was given or is suggested."""

    def __init__(self, code: str, **params: object) -> None:
        super().__init__(code)
        self.code = code
        self.params = params


def parse_specific_gravity(value: object) -> Decimal:
    """Read an SG from a text with point or comma or from a number: 1.00 < SG <= 2.50, three decimals at most.

    Raises SgError: not_a_number; looks_like (15, 153, 1530: `suggestion` is the SG with its point put
    back); out_of_range; too_many_decimals.

    >>> parse_specific_gravity("1,53")
    Decimal('1.53')
    """
    written = str(value).strip()
    if isinstance(value, bool) or not _WRITTEN.fullmatch(written):
        raise SgError("not_a_number", text=written[:20])
    number = Decimal(written.replace(",", "."))
    if not _is_sg(number):
        for factor in (10, 100, 1000):
            if _is_sg(number / factor) and _fits(number / factor):
                raise SgError("looks_like", value=number, suggestion=number / factor)
        raise SgError("out_of_range", value=number, low=LOWEST_SG, high=HIGHEST_SG)
    if not _fits(number):
        raise SgError("too_many_decimals", value=number, suggestion=number.quantize(_THOUSANDTH))
    return min(number, number.quantize(_THOUSANDTH), key=lambda equal: len(equal.as_tuple().digits))


def _is_sg(number: Decimal) -> bool:
    return LOWEST_SG < number <= HIGHEST_SG


def _fits(number: Decimal) -> bool:
    return number == number.quantize(_THOUSANDTH)


def specific_gravity_from(mass_g: Decimal | float, volume_ml: Decimal | float) -> Decimal:
    """SG = mass in g / volume in mL, rounded to the three decimals that an SG may have.

    Mass without the vessel. Raises SgError: not_positive (`field`), out_of_range.
    Source: T. Buck, http://www.potters.org/subject95505.htm (306 g in 200 mL).

    >>> specific_gravity_from(306, 200)
    Decimal('1.530')
    """
    mass, volume = _positive("mass_g", mass_g), _positive("volume_ml", volume_ml)
    sg = (mass / volume).quantize(_THOUSANDTH)
    if not _is_sg(sg):
        raise SgError("out_of_range", value=sg, low=LOWEST_SG, high=HIGHEST_SG)
    return sg


def dry_g_per_l(sg: Decimal | float, particle_density: Decimal | float = MEAN_PARTICLE_DENSITY) -> float:
    """Brongniart: W = (L - 1000) G / (G - 1), g of dry powder in a litre that weighs L = 1000 SG grams.

    G = particle density (g/mL), G > SG. Raises SgError: out_of_range, denser_than_particles. A G wrong by
    0.1 moves W by about 2.5 %. Source: A. Brongniart, Traité des arts céramiques 1, 1854, p. 249, as given
    in Handbook for Australian Potters (address above).

    >>> round(dry_g_per_l(1.4), 3)
    650.0
    """
    s, density = _checked(sg, particle_density)
    return 1000 * (s - 1) * density / (density - 1)


def solids_fraction(sg: Decimal | float, particle_density: Decimal | float = MEAN_PARTICLE_DENSITY) -> float:
    """Mass of dry powder in 1 of slurry: w = G (s - 1) / (s (G - 1)), which is Brongniart over 1000 s.

    Arguments and errors as `dry_g_per_l`. Published: SG 1.5 at G 2.5 holds 833.3 g dry and 666.7 g water
    (S. Altmann 1998, http://potters.org/subject11877.htm).

    >>> round(solids_fraction(1.5, 2.5) * 1500, 1)
    833.3
    """
    return dry_g_per_l(sg, particle_density) / (1000 * float(sg))


def water_to_add_ml(bucket_volume_ml: Decimal | float, sg: Decimal | float, target: Decimal | float) -> float:
    """Water for a bucket of V mL at SG s to reach t: dV = V (s - t) / (t - 1) mL; below 0 = take off.

    Volumes add, so the powder's density drops out. Raises SgError: not_positive, out_of_range. An SG read
    0.01 wrong moves dV by about V / 50 at t = 1.5. Published: 14 kg of powder (G 2.5) at SG 1.5, which fill
    16.8 L, give off 5.6 kg of water to reach 1.75 (S. Altmann, http://www.potters.org/subject13664.htm).

    >>> round(water_to_add_ml(16800, 1.5, 1.75), 6)
    -5600.0
    """
    volume = float(_positive("bucket_volume_ml", bucket_volume_ml))
    s, t = _in_range(sg), _in_range(target)
    return volume * (s - t) / (t - 1)


def dry_to_add_g(
    bucket_volume_ml: Decimal | float,
    sg: Decimal | float,
    target: Decimal | float,
    particle_density: Decimal | float = MEAN_PARTICLE_DENSITY,
) -> float | None:
    """Dry powder for a bucket of V mL at SG s to reach t: x = V G (t - s) / (G - t) g; None when t lies below s.

    The powder brings its own volume x / G; G > t. Raises SgError: not_positive, out_of_range,
    denser_than_particles. Source: conservation of mass and volume, as `dry_g_per_l`. Check by its table at
    G 2.6: 1 L of 1.40 holds 650 g dry and 750 g water; of 1.50, 84.6 g water to 100 g dry, that is 886 g dry.

    >>> round(dry_to_add_g(1000, 1.4, 1.5), 1)
    236.4
    """
    volume = float(_positive("bucket_volume_ml", bucket_volume_ml))
    s, t = _in_range(sg), _in_range(target)
    _s, density = _checked(max(s, t), particle_density)
    return None if t < s else volume * density * (t - s) / (density - t)


def water_for_dry_ml(
    dry_g: Decimal | float,
    target: Decimal | float,
    particle_density: Decimal | float = MEAN_PARTICLE_DENSITY,
) -> float:
    """All the water that M g of dry powder want to become a slurry of SG t: M (G - t) / (G (t - 1)) mL.

    `solids_fraction` turned round; a G wrong by 0.1 moves it by about 5 % at t = 1.5. Errors as there.
    Published: 14 kg of powder (G 2.5) take 11.2 kg of water at SG 1.5 (S. Altmann,
    http://www.potters.org/subject13664.htm).

    >>> round(water_for_dry_ml(14000, 1.5, 2.5), 6)
    11200.0
    """
    dry = float(_positive("dry_g", dry_g))
    t, density = _checked(target, particle_density)
    return dry * (density - t) / (density * (t - 1))


def thickened_sg(sg: Decimal | float, volume_ml: Decimal | float, evaporated_ml: Decimal | float) -> float:
    """SG after V mL at SG s lost E mL of water (below 0: was given): 1 + (s - 1) V / (V - E). Volumes add.

    Raises SgError: not_positive, out_of_range (also when so much is gone that it is a slurry no more).
    Source: conservation of mass, as `water_to_add_ml`, whose published case is turned round here.

    >>> thickened_sg(1.5, 16800, 5600)
    1.75
    """
    volume = float(_positive("volume_ml", volume_ml))
    left = float(_positive("left_ml", volume - float(evaporated_ml)))
    return _in_range(1 + (_in_range(sg) - 1) * volume / left)


def _positive(field: str, value: Decimal | float) -> Decimal:
    number = Decimal(str(value))
    if not number.is_finite() or number <= 0:
        raise SgError("not_positive", field=field, value=value)
    return number


def _in_range(sg: Decimal | float) -> float:
    number = Decimal(str(sg))
    if not number.is_finite() or not _is_sg(number):
        raise SgError("out_of_range", value=sg, low=LOWEST_SG, high=HIGHEST_SG)
    return float(number)


def _checked(sg: Decimal | float, particle_density: Decimal | float) -> tuple[float, float]:
    s, density = _in_range(sg), float(_positive("particle_density", particle_density))
    if density <= s:
        raise SgError("denser_than_particles", value=sg, particle_density=particle_density)
    return s, density
