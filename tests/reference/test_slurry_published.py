"""Slurry formulas against worked figures in print. Print cuts or rounds, hence the tolerances."""

from decimal import Decimal

import pytest

from inventory.calc.slurry import dry_g_per_l, solids_fraction, specific_gravity_from, water_to_add_ml


def test_a_thick_slip_of_1700_g_per_litre():
    """1166 g/L; 30 L hold 35 kg; 5 % of it is 1.75 kg.

    GTZ, Forming Techniques for the Self-Reliant Potter, 1991,
    https://www.cd3wdproject.org/CD3WD/APPRTECH/G16FOE/B398_18.HTM
    """
    dry = dry_g_per_l(Decimal("1.70"), 2.5)
    assert int(dry) == 1166
    assert 30 * dry / 1000 == pytest.approx(35)
    assert 0.05 * 30 * dry / 1000 == pytest.approx(1.75)


def test_b_dry_and_water_in_a_litre_of_1500_g():
    """833.3 g dry and 666.7 g water: S. Altmann 1998, http://potters.org/subject11877.htm"""
    dry = 1500 * solids_fraction(Decimal("1.5"), 2.5)
    assert round(dry, 1) == 833.3
    assert round(1500 - dry, 1) == 666.7


def test_c_water_to_take_off():
    """14 kg dry at SG 1.5 holds 11.2 kg water, at 1.75 it holds 5.6: take out 5.6 kg.

    S. Altmann, http://www.potters.org/subject13664.htm (G = 2.5, hence 11.2 + 14 / 2.5 = 16.8 L)
    """
    for sg, water_kg in ((1.5, 11.2), (1.75, 5.6)):
        fraction = solids_fraction(sg, 2.5)
        assert 14 * (1 - fraction) / fraction == pytest.approx(water_kg)
    assert water_to_add_ml(16800, Decimal("1.5"), Decimal("1.75")) == pytest.approx(-5600)


@pytest.mark.parametrize(
    ("sg", "printed_g_per_l"), [(1.40, 650), (1.45, 731), (1.50, 812), (1.60, 975), (1.70, 1137)]
)
def test_d_table_for_particles_of_2_6(sg, printed_g_per_l):
    """Handbook for Australian Potters (halves cut off),
    https://scribd.com/doc/187727916/Brongniarts-Formula-made-Easy-for-Ceramists"""
    assert abs(dry_g_per_l(sg) - printed_g_per_l) <= 0.5 + 1e-9


# Computed from Brongniart's formula apart from this code, and rounded; the column of 2.6 holds (d) above.
TABLE = [
    (1.30, 500, 488, 482, 37.5, 166.7),
    (1.40, 667, 650, 642, 46.4, 115.4),
    (1.45, 750, 731, 723, 50.4, 98.3),
    (1.50, 833, 812, 803, 54.2, 84.6),
    (1.55, 917, 894, 883, 57.7, 73.4),
    (1.60, 1000, 975, 964, 60.9, 64.1),
    (1.70, 1167, 1137, 1124, 66.9, 49.5),
    (1.75, 1250, 1219, 1205, 69.6, 43.6),
    (1.80, 1333, 1300, 1285, 72.2, 38.5),
]


@pytest.mark.parametrize(("sg", "at_2_5", "at_2_6", "at_2_65", "solids_percent", "water_per_100"), TABLE)
def test_table_of_dry_content(sg, at_2_5, at_2_6, at_2_65, solids_percent, water_per_100):
    for density, dry in ((2.5, at_2_5), (2.6, at_2_6), (2.65, at_2_65)):
        assert abs(dry_g_per_l(sg, density) - dry) <= 0.5 + 1e-9
    fraction = solids_fraction(sg)
    assert abs(100 * fraction - solids_percent) <= 0.05 + 1e-9
    assert abs(100 * (1 - fraction) / fraction - water_per_100) <= 0.05 + 1e-9


def test_imperial_brongniart_gives_the_same():
    """W = (P - 20) g / (g - 1), ounces per imperial pint of 20 fl oz.

    Cardew, Pioneer Pottery, p. 269, as quoted at http://potters.org/subject34220.htm. A pint of water
    weighs 20 oz, so an SG of 1.45 is 29 oz, and oz per pint over 20 are kg per litre.
    """
    ounces = (29 - 20) * 2.6 / (2.6 - 1)
    assert dry_g_per_l(29 / 20) == pytest.approx(ounces / 20 * 1000)


@pytest.mark.parametrize(
    ("mass_g", "volume_ml", "sg"),
    [
        (306, 200, "1.53"),  # T. Buck, http://www.potters.org/subject95505.htm
        (140, 100, "1.40"),  # https://lists.clayartforum.com/pipermail/clayart/2025-February/032468.html
    ],
)
def test_specific_gravity_by_weighing_a_volume(mass_g, volume_ml, sg):
    assert specific_gravity_from(mass_g, volume_ml) == Decimal(sg)
