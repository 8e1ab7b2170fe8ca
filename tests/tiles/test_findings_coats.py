"""How a layer was put on, what it went onto and what is in it; thresholds: common practice or the studio's own."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from tiles.calc.findings import LayerFacts, layer_findings

NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


def layer(position=1, **facts):
    known = {"kind": "glaze", "cone_low": None, "cone_high": None, "area": "upper", **facts}
    return LayerFacts(position=position, name=f"Layer {position}", **known)


def codes(*layers):
    return [
        found.code for found in layer_findings([layer(n, **facts) for n, facts in enumerate(layers, 1)], None)
    ]


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({}, []),
        # Movement: 5 mm is about the bare foot that is commonly left.
        ({"moved_mm": Decimal("5.0"), "area": "whole"}, []),
        ({"moved_mm": Decimal("5.1"), "area": "whole"}, ["runny_near_foot"]),
        ({"moved_mm": Decimal("5.1"), "area": "lower"}, ["runny_near_foot"]),
        ({"moved_mm": Decimal("5.1"), "area": "upper"}, []),
        ({"moved_mm": Decimal("5.1"), "area": "outside", "wiped_back": True}, []),
        # The foot.
        ({"area": "foot"}, ["glaze_on_foot"]),
        ({"area": "foot", "wiped_back": True}, []),
        ({"area": "foot", "kind": "engobe", "coats": 2}, []),
        ({"area": "foot", "kind": "engobe", "coats": 3}, ["thick_on_foot"]),
        ({"area": "foot", "kind": "engobe", "thickness_mm": Decimal("0.5")}, ["thick_on_foot"]),
        ({"area": "foot", "kind": "engobe", "thickness_mm": Decimal("0.49")}, []),
        ({"area": "foot", "kind": "wax"}, []),
        # The ground.
        ({"ground_state": "clean"}, []),
        ({"ground_state": "oily"}, ["ground_oily"]),
        ({"ground_state": "dusty"}, ["ground_dusty"]),
        ({"ground_state": "damp"}, ["ground_damp"]),
        ({"ground": "fired"}, ["on_fired_glaze"]),
        ({"ground": "fired", "kind": "lustre"}, []),
        ({"ground": "bisque"}, []),
        # The bucket.
        ({"stirred_in": "Mill Red"}, ["stirred_in"]),
        ({"stirred_at": NOON - timedelta(days=7), "applied_at": NOON}, []),
        ({"stirred_at": NOON - timedelta(days=7, seconds=1), "applied_at": NOON}, ["not_stirred"]),
        ({"stirred_at": None, "applied_at": NOON}, []),
        # Brushing: three even coats.
        ({"method": "brush", "coats": 2}, ["few_coats"]),
        ({"method": "brush", "coats": 3}, []),
        ({"method": "brush", "coats": None}, []),
        ({"method": "dip", "coats": 1}, []),
        ({"is_even": False}, ["uneven_coats"]),
        ({"is_even": None}, []),
        ({"method": "brush", "coats": 3, "tool": "hog hair brush"}, ["stiff_brush"]),
        ({"method": "brush", "coats": 3, "tool": "soft mop"}, []),
        ({"method": "dip", "tool": "stiff tongs"}, []),
        # Handling it raw.
        ({"method": "spray"}, ["spray_mist"]),
        ({"method": "spray", "substances": ("Co",)}, ["hazard_in_spray"]),
        ({"method": "spray", "health_statement": "Irritates."}, ["spray_mist", "container_warns"]),
        ({"method": "dip", "substances": ("Co",)}, ["hazard_on_skin"]),
        ({"method": "", "substances": ("Co",)}, []),
        ({"method": "spray", "kind": "wax"}, []),
    ],
)
def test_one_layer(facts, expected):
    assert codes(facts) == expected


RUNNY = {"moved_mm": Decimal(8)}


@pytest.mark.parametrize(
    ("under", "over", "expected"),
    [
        (RUNNY, RUNNY, ["runny_on_runny"]),
        (RUNNY, {"moved_mm": Decimal(5)}, []),
        ({**RUNNY, "area": "inside"}, RUNNY, []),  # they do not meet
        ({}, {"ground_state": "damp"}, ["coat_on_undried"]),
        ({"ground": "fired"}, {"ground": "fired"}, ["on_fired_glaze"]),  # said once
    ],
)
def test_two_layers(under, over, expected):
    assert codes(under, over) == expected


@pytest.mark.parametrize(
    ("minutes", "timed", "expected"),
    [
        (4, True, ["coat_soon_after"]),
        (5, True, []),
        (0, True, ["coat_soon_after"]),
        (4, False, []),
        (-1, True, []),
    ],
)
def test_only_moments_that_were_said_tell_of_drying(minutes, timed, expected):
    over = NOON + timedelta(minutes=minutes)
    facts = {"is_timed": timed}
    assert codes({**facts, "applied_at": NOON}, {**facts, "applied_at": over}) == expected
