"""Specific gravity as it is typed: 1.00 < SG <= 2.50, and a lost point is asked about."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.slurry import (
    SgError,
    dry_g_per_l,
    parse_specific_gravity,
    specific_gravity_from,
    water_to_add_ml,
)


@pytest.mark.parametrize(
    ("written", "sg"),
    [("1.53", "1.53"), ("1,53", "1.53"), (" 1.455 ", "1.455"), ("2.50", "2.5"), ("1.001", "1.001")]
    + [("2", "2"), ("1.5300", "1.53"), (Decimal("1.6"), "1.6"), (1.53, "1.53"), (2, "2")],
)
def test_reads(written, sg):
    read = parse_specific_gravity(written)
    assert read == Decimal(sg)
    assert read.as_tuple().exponent >= -3


@pytest.mark.parametrize(
    ("written", "suggestion"),
    [("15", "1.5"), ("153", "1.53"), ("1530", "1.53"), ("15,3", "1.53"), ("250", "2.5"), (1455, "1.455")],
)
def test_a_lost_point_is_asked_about(written, suggestion):
    with pytest.raises(SgError) as refusal:
        parse_specific_gravity(written)
    assert refusal.value.code == "looks_like"
    assert refusal.value.params["suggestion"] == Decimal(suggestion)


@pytest.mark.parametrize(
    ("written", "code"),
    [
        (text, "out_of_range")
        for text in ("1", "1.00", "0.9", "2.501", "3", "10", "100", "1000", "-1.5", "15301")
    ]
    + [
        (text, "not_a_number")
        for text in ("", "thick", "1.5.3", "NaN", "Infinity", "1e0", "1_5", "١", True, None)
    ]
    + [(Decimal("NaN"), "not_a_number"), (float("inf"), "not_a_number"), ("1.5345", "too_many_decimals")],
)
def test_refuses_the_rest_by_name(written, code):
    with pytest.raises(SgError) as refusal:
        parse_specific_gravity(written)
    assert refusal.value.code == code


@pytest.mark.parametrize(
    ("call", "code"),
    [
        (lambda: specific_gravity_from(0, 100), "not_positive"),
        (lambda: specific_gravity_from(150, float("nan")), "not_positive"),
        (lambda: specific_gravity_from(100, 100), "out_of_range"),
        (lambda: dry_g_per_l(1.5, 1.5), "denser_than_particles"),
        (lambda: dry_g_per_l(1.0), "out_of_range"),
        (lambda: dry_g_per_l(Decimal("NaN")), "out_of_range"),
        (lambda: water_to_add_ml(1000, 1.5, 1), "out_of_range"),
        (lambda: water_to_add_ml(-1, 1.5, 1.4), "not_positive"),
    ],
)
def test_formulas_refuse_what_cannot_be(call, code):
    with pytest.raises(SgError) as refusal:
        call()
    assert refusal.value.code == code


thousandths = st.integers(1010, 2500).map(lambda n: Decimal(n) / 1000)


@given(thousandths, thousandths, st.integers(100, 30000))
def test_water_added_reaches_the_target_by_mass_and_volume(sg, target, volume_ml):
    """Weigh the bucket before and after: mass over volume is the target, whatever the powder."""
    added = water_to_add_ml(volume_ml, sg, target)
    mass_g = volume_ml * float(sg) + added
    assert mass_g / (volume_ml + added) == pytest.approx(float(target))
