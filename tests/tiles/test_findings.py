"""What a check of a firing and of a tile's layers has to say.

Levels by the studio's decision; usual bisque cones 08-04, the day between coats and the cover over
underglaze, wash and slip are common practice.
"""

from datetime import UTC, datetime, timedelta

import pytest

from inventory.calc.cones import Cone
from tiles.calc.findings import Finding, LayerFacts, firing_findings, layer_findings, worst


def cone(code):
    return Cone.parse(code) if code else None


def firing(target, kind="glaze", kiln=None, body=(None, None), bisque=None):
    found = firing_findings(cone(target), kind, cone(kiln), cone(body[0]), cone(body[1]), cone(bisque))
    return [(finding.code, finding.details.get("side")) for finding in found]


STONEWARE, EARTHENWARE = ("5", "6"), ("05", "03")


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({"target": None, "kiln": "6", "body": STONEWARE}, []),
        ({"target": "6", "kiln": "6", "body": STONEWARE}, []),
        ({"target": "7", "body": STONEWARE}, [("body_outside_cone", "above")]),
        ({"target": "4", "body": STONEWARE}, [("body_outside_cone", "below")]),
        ({"target": "4", "body": STONEWARE, "kind": "refire"}, [("body_outside_cone", "below")]),
        ({"target": "018", "body": STONEWARE, "kind": "lustre"}, []),
        ({"target": "7", "body": STONEWARE, "kind": "lustre"}, [("body_outside_cone", "above")]),
        ({"target": "7", "body": (None, "6")}, [("body_outside_cone", "above")]),
        ({"target": "4", "body": ("5", None)}, [("body_outside_cone", "below")]),
        ({"target": "6", "kiln": "5"}, [("kiln_too_cool", None)]),
        (
            {"target": "10", "kiln": "8", "body": STONEWARE},
            [("body_outside_cone", "above"), ("kiln_too_cool", None)],
        ),
        # 06 and 6
        ({"target": "06", "body": STONEWARE}, [("body_outside_cone", "below"), ("unlikely_cone", None)]),
        ({"target": "4", "body": EARTHENWARE}, [("body_outside_cone", "above"), ("unlikely_cone", None)]),
        ({"target": "10", "body": EARTHENWARE}, [("body_outside_cone", "above")]),
        ({"target": "06"}, []),
        ({"target": "06", "kind": "bisque", "body": STONEWARE}, []),
        ({"target": "6", "kind": "bisque", "body": STONEWARE}, [("unlikely_cone", None)]),
        ({"target": "6", "kind": "bisque", "body": STONEWARE, "bisque": "6"}, []),
        ({"target": "06", "kind": "bisque", "body": STONEWARE, "bisque": "6"}, [("unlikely_cone", None)]),
        ({"target": "6", "kind": "bisque", "bisque": "06"}, [("unlikely_cone", None)]),
        ({"target": "04", "kind": "bisque", "bisque": "06"}, []),
        (
            {"target": "7", "kind": "bisque", "body": STONEWARE, "bisque": "7"},
            [("body_outside_cone", "above")],
        ),
    ],
)
def test_firing(facts, expected):
    assert firing(**facts) == expected


def test_firing_levels_and_worst():
    found = firing_findings(cone("06"), "glaze", cone("07"), cone("5"), cone("6"), None)
    assert [(finding.code, finding.level) for finding in found] == [
        ("body_outside_cone", "stop"),
        ("kiln_too_cool", "stop"),
        ("unlikely_cone", "note"),
    ]
    assert found[2].details == {"target": cone("06"), "twin": cone("6")}
    assert worst(found) == "stop"
    assert worst(found[2:]) == "note"
    assert worst([]) is None
    assert worst([Finding("x", "note"), Finding("x", "warn")]) == "warn"


NOON = datetime(2024, 3, 1, 12, tzinfo=UTC)


def layer(position, name, kind="glaze", cones=(None, None), area="whole", **more):
    low, high = (cone(code) for code in cones)
    return LayerFacts(
        position=position, name=name, kind=kind, cone_low=low, cone_high=high, area=area, **more
    )


def said(layers, target=None):
    return [(finding.code, finding.field) for finding in layer_findings(layers, cone(target))]


@pytest.mark.parametrize(
    ("target", "cones", "side"),
    [
        ("6", ("5", "6"), None),
        ("7", ("5", "6"), "above"),
        ("04", ("5", "6"), "below"),
        ("7", (None, "6"), "above"),
        ("04", ("5", None), "below"),
        ("04", (None, None), None),
        (None, ("5", "6"), None),
    ],
)
def test_glaze_outside_the_firing(target, cones, side):
    sides = [
        finding.details["side"] for finding in layer_findings([layer(1, "A", cones=cones)], cone(target))
    ]
    assert sides == ([side] if side else [])
    assert said([layer(1, "wax", kind="wax", cones=cones)], target) == []


def test_standing_of_the_fill():
    layers = [
        layer(1, "A", use_standing="use"),
        layer(2, "B", use_standing="do_not_use", use_reasons=("contaminated", "empty")),
        layer(3, "C", use_standing="ask", use_reasons=("sg_low",)),
        layer(4, "D"),
    ]
    found = layer_findings(layers, None)
    assert [(finding.code, finding.level, finding.field) for finding in found] == [
        ("fill_do_not_use", "stop", "layers.2.fill"),
        ("fill_ask_first", "warn", "layers.3.fill"),
    ]
    assert found[0].details == {"name": "B", "reasons": ("contaminated", "empty")}


@pytest.mark.parametrize(
    ("kind", "area", "over", "bare"),
    [
        ("underglaze", "whole", [("glaze", "whole")], ()),
        ("underglaze", "whole", [], ("inside", "lip", "top", "middle", "bottom")),
        ("underglaze", "outside", [("glaze", "upper")], ("bottom",)),
        ("underglaze", "outside", [("glaze", "upper"), ("glaze", "lower")], ()),
        ("wash", "lip", [("slip", "whole"), ("wax", "whole")], ("lip",)),
        ("slip", "band", [("glaze", "inside")], ("middle",)),
        ("terra_sigillata", "whole", [], ()),
        ("engobe", "whole", [], ()),
        ("glaze", "whole", [], ()),
    ],
)
def test_colour_left_uncovered(kind, area, over, bare):
    layers = [layer(1, "A", kind=kind, area=area)]
    layers += [layer(n, "B", kind=kind, area=area) for n, (kind, area) in enumerate(over, start=2)]
    found = [finding for finding in layer_findings(layers, None) if finding.field == "layers.1.area"]
    assert [finding.details["regions"] for finding in found] == ([bare] if bare else [])


def test_a_glaze_underneath_covers_nothing():
    assert said([layer(1, "A"), layer(2, "B", kind="underglaze")]) == [
        ("underglaze_uncovered", "layers.2.area")
    ]


@pytest.mark.parametrize(
    ("gap", "hours"),
    [
        (timedelta(hours=24), None),
        (timedelta(hours=24, seconds=1), 24),
        (timedelta(days=3), 72),
        (-timedelta(days=3), None),
    ],
)
def test_more_than_a_day_between_coats(gap, hours):
    layers = [layer(1, "A", applied_at=NOON), layer(2, "B", applied_at=NOON + gap)]
    found = layer_findings(layers, None)
    assert [(finding.code, finding.level, finding.details["hours"]) for finding in found] == (
        [("coat_after_a_day", "note", hours)] if hours else []
    )


def test_only_neighbouring_coats_with_a_time_are_compared():
    late = NOON + timedelta(days=3)
    assert said([layer(1, "A", applied_at=NOON), layer(2, "B"), layer(3, "C", applied_at=late)]) == []


@pytest.mark.parametrize(
    ("under", "over", "apart"),
    [
        (("5", "6"), ("6", "10"), False),
        (("5", "6"), ("06", "04"), True),
        (("06", "04"), ("5", "6"), True),
        (("5", None), ("06", "04"), False),
    ],
)
def test_ranges_that_do_not_meet(under, over, apart):
    layers = [layer(1, "A", cones=under), layer(2, "B", cones=over)]
    assert said(layers) == ([("cone_ranges_apart", "layers.2.glaze")] if apart else [])


def test_a_lustre_has_a_firing_of_its_own():
    assert said([layer(1, "A", cones=("5", "6")), layer(2, "B", kind="lustre", cones=("019", "018"))]) == []


def test_findings_come_in_the_order_of_the_layers():
    layers = [
        layer(1, "A", cones=("5", "6"), applied_at=NOON, use_standing="ask", use_reasons=("other",)),
        layer(2, "B", kind="wash", cones=("06", "04"), applied_at=NOON + timedelta(days=2)),
    ]
    assert said(layers, "6") == [
        ("fill_ask_first", "layers.1.fill"),
        ("glaze_outside_cone", "layers.2.glaze"),
        ("underglaze_uncovered", "layers.2.area"),
        ("coat_after_a_day", "layers.2.applied_at"),
        ("cone_ranges_apart", "layers.2.glaze"),
    ]
