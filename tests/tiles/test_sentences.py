"""Every code that a calculation can give has a sentence, and every sentence gets the figures it asks for."""

import ast
import re
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from inventory import sentences as shelf
from inventory.calc import cones, slurry, standing
from inventory.calc.cones import Cone, ConeError, ConeRange
from inventory.calc.slurry import SgError, parse_specific_gravity
from tiles import schedule_sentences
from tiles import sentences as wall
from tiles.calc import findings, schedule_findings, witness, zones
from tiles.calc.findings import LayerFacts, firing_findings, layer_findings

FOUR, FIVE, SIX, SEVEN, TEN = (Cone.parse(code) for code in ("4", "5", "6", "7", "10"))
NOUGHT_SIX = Cone.parse("06")
NOON = datetime(2024, 3, 1, 12, tzinfo=UTC)


def layer(position, kind, low, high, hours, *standing):
    return LayerFacts(
        position=position,
        name=f"Layer {position}",
        kind=kind,
        cone_low=low,
        cone_high=high,
        area="outside",
        use_standing=standing[0] if standing else "",
        use_reasons=tuple(standing[1:]),
        applied_at=NOON + timedelta(hours=hours),
    )


LAYERS = [
    layer(1, "glaze", SIX, SEVEN, 0, "do_not_use", *standing.DO_NOT_USE, *standing.ASK_FIRST),
    layer(2, "wash", FOUR, FIVE, 30, "ask"),
]


def put_on(position, **facts):
    known = {"kind": "glaze", "cone_low": None, "cone_high": None, "area": "outside", **facts}
    return LayerFacts(position=position, name=f"Layer {position}", **known)


def both(first, second):
    """Everything about how two layers went on, one over the other."""
    return layer_findings([put_on(1, **first), put_on(2, **second)], None)


RUNS = {"moved_mm": Decimal("6.5"), "applied_at": NOON, "is_timed": True}
COATS = [
    *both({**RUNS, "is_moved_expected": True}, {**RUNS, "stirred_in": "Mill Red", "ground_state": "damp"}),
    *both(
        {"area": "foot", "ground_state": "oily", "ground": "fired", "is_even": False},
        {"area": "foot", "kind": "underglaze", "coats": 3, "ground_state": "dusty"},
    ),
    *both(
        {"method": "brush", "coats": 1, "tool": "stiff bristle", "ground_state": "damp"},
        {"method": "spray", "substances": ("Co",), "health_statement": "Irritates."},
    ),
    *both(
        {"method": "spray"},
        {
            "method": "dip",
            "substances": ("Co",),
            "applied_at": NOON,
            "stirred_at": NOON - timedelta(days=9),
        },
    ),
]
EVERY_FINDING = [
    *COATS,
    *firing_findings(TEN, "glaze", SEVEN, FIVE, SIX, None),
    *firing_findings(NOUGHT_SIX, "glaze", SEVEN, FIVE, SIX, None),
    *layer_findings(LAYERS, TEN),
    *layer_findings(LAYERS, NOUGHT_SIX),
]


def raised_codes(module, error):
    """The codes with which a calculation raises an error, read from its source."""
    tree = ast.parse(Path(module.__file__).read_text(encoding="utf-8"))
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return {call.args[0].value for call in calls if getattr(call.func, "id", "") == error and call.args}


def test_no_code_is_without_words_and_no_words_without_a_code():
    rules = {**findings.RULES, **schedule_findings.RULES}
    assert {key.partition(".")[0] for key in wall.FINDINGS} == set(rules)
    assert set(shelf.CONE_ERRORS) == raised_codes(cones, "ConeError")
    assert set(shelf.SG_ERRORS) == raised_codes(slurry, "SgError")
    assert set(shelf.USE_WORDS) == set(standing.USE_ORDER)
    assert set(shelf.FOOD_WORDS) == set(standing.FOOD)
    assert set(shelf.REASONS) == {
        *standing.DO_NOT_USE,
        *standing.ASK_FIRST,
        *standing.NOTES,
        *standing.FOOD_REASONS,
    }
    assert set(wall.REGION_WORDS) == set(zones.REGIONS)
    assert set(wall.ZONE_WORDS) == {"whole", "alone", "overlap"}
    assert set(wall.BASIS_WORDS) == set(witness.BASES)
    assert set(wall.SOURCE_WORDS) == {source for _, source in rules.values()}


def test_every_finding_speaks_with_the_figures_it_carries():
    spoken = set()
    for finding in EVERY_FINDING:
        words = wall.sentence(finding)
        assert "%" not in words
        assert not re.search(r"\bNone\b|Cone\(", words)
        assert wall.source_words(finding)
        side = finding.details.get("side")
        spoken.add(f"{finding.code}.{side}" if side else finding.code)
    # Those of a schedule speak in test_schedule_findings.
    assert spoken == set(wall.FINDINGS) - set(schedule_sentences.FINDINGS)


def test_a_finding_says_what_why_and_what_to_do():
    said = {finding.code: wall.sentence(finding) for finding in EVERY_FINDING}
    assert said["body_outside_cone"] == (
        "This firing goes to cone 06 (998\u00a0°C), but the clay body matures at cone 5 (1186\u00a0°C) to "
        "cone 6 (1222\u00a0°C). Cooler than that it stays porous and weak. Choose a hotter firing or another body."
    )
    assert "Something else has got into it" in said["fill_do_not_use"]
    assert said["fill_ask_first"] == (
        "Ask a technician before you use this bucket of Layer 2. Its record says why."
    )
    assert "Layer 2 went on 30 hours after Layer 1." in said["coat_after_a_day"]


@pytest.mark.parametrize(
    "refused",
    [lambda value=value: Cone.parse(value) for value in ("", 6, "clay", "23")]
    + [lambda: Cone(1), lambda: ConeRange(SIX, NOUGHT_SIX)],
)
def test_cone_refusals(refused):
    with pytest.raises(ConeError) as refusal:
        refused()
    words = shelf.cone_error_sentence(refusal.value)
    assert "%" not in words
    assert re.search(r"6|022", words)


@pytest.mark.parametrize(
    ("refused", "words"),
    [
        (
            lambda: parse_specific_gravity("153"),
            "Did you mean 1.53? Specific gravity lies between 1.00 and 2.50.",
        ),
        (
            lambda: parse_specific_gravity("9"),
            "9 cannot be a specific gravity: that lies between 1.00 and 2.50. Weigh a measured volume again.",
        ),
        (lambda: parse_specific_gravity("thin"), "Write the specific gravity as a number, for example 1.53."),
        (
            lambda: parse_specific_gravity("1.5342"),
            "Three decimals are enough for a specific gravity: write 1.534.",
        ),
        (
            lambda: slurry.specific_gravity_from(-1, 100),
            "-1 cannot be a mass, a volume or a density. Write a number above 0.",
        ),
        (
            lambda: slurry.dry_g_per_l(Decimal("1.5"), 1.4),
            "A slurry of 1.5 cannot be as dense as its own powder (1.4). Check both figures.",
        ),
    ],
)
def test_specific_gravity_refusals(refused, words):
    with pytest.raises(SgError) as refusal:
        refused()
    assert shelf.sg_error_sentence(refusal.value) == words


def test_reasons_name_figures_where_they_are_known():
    figures = {"sg": Decimal("1.38"), "low": Decimal("1.42"), "high": Decimal("1.30"), "days": 1}
    for code in shelf.REASONS:
        assert "%" not in shelf.reason_sentence(code)
        assert "%" not in shelf.reason_sentence(code, **figures)
    assert "1.38, below the wanted 1.42" in shelf.reason_sentence("sg_low", **figures)
    assert "1.38, above the wanted 1.30" in shelf.reason_sentence("sg_high", **figures)
    assert "last read 1 day ago" in shelf.reason_sentence("sg_stale", days=1)
    assert "last read 40 days ago" in shelf.reason_sentence("sg_stale", days=40)


def test_figures_of_a_fill_carry_the_names_that_the_sentences_ask_for():
    facts = standing.FillFacts(
        contaminated=False,
        wrong_label=False,
        dried_out=False,
        settled_hard=False,
        other=False,
        not_for_food_flag=False,
        sg=Decimal("1.38"),
        sg_age_days=40.7,
        sg_low=Decimal("1.42"),
        sg_high=Decimal("1.48"),
        stale_after_days=30,
        level="half",
        origin="mixed",
        label="",
    )
    wanted = {name for names, _ in shelf.REASONS_WITH_FIGURES.values() for name in names}
    assert set(facts.params()) == wanted
    assert "40 days" in shelf.reason_sentence("sg_stale", **facts.params())


def test_the_house_never_calls_anything_safe_itself():
    """'Safe' stands only inside the quotation marks of a label."""
    catalogues = [shelf.USE_WORDS, shelf.FOOD_WORDS, shelf.REASONS, shelf.CONE_ERRORS, shelf.SG_ERRORS]
    catalogues += [wall.FINDINGS, wall.BASIS_WORDS, wall.ZONE_WORDS]
    for catalogue in catalogues:
        for words in catalogue.values():
            own = re.sub(r"“[^”]*”", "", str(words))
            assert not re.search(r"safe|approved|certified", own, re.IGNORECASE)


def test_cones_stand_beside_their_degrees_as_far_as_published():
    assert shelf.cone_words(SIX) == "cone 6 (1222\u00a0°C)"
    assert shelf.cone_words(Cone.parse("4.5")) == "cone 4½"
    assert shelf.cone_range_words(SIX, SIX) == "cone 6 (1222\u00a0°C)"
    assert shelf.cone_range_words(None, SIX) == "up to cone 6 (1222\u00a0°C)"
    assert shelf.cone_range_words(SIX, None) == "cone 6 (1222\u00a0°C) and hotter"


def test_what_a_tiles_cone_rests_on():
    short = witness.TileCone(None, "witness_short", below=SIX)
    assert wall.basis_words(short) == "no witness cone was down: cone 6 (1222\u00a0°C) is not proved"
    for basis in witness.BASES:
        assert "%" not in wall.basis_words(witness.TileCone(SIX, basis))
