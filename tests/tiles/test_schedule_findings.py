"""What is said of a schedule: each rule on both sides of its figure (fixtures/firing_rates.csv), and in words."""

import re

import pytest

from inventory.calc.cones import Cone
from studio import units
from tiles.calc.schedule import ScheduleError, Segment, segments_of
from tiles.calc.schedule_findings import RULES, ScheduleFacts, WareFacts, schedule_findings
from tiles.schedule_sentences import REFUSALS, duration_words, refusal_words, segments_words
from tiles.sentences import sentence, source_words

CONES = {code: Cone.parse(code) for code in ("04", "03", "1", "4", "5", "6", "7", "8")}
GOOD = (Segment(100, 540), Segment(60, 610), Segment(150, 1100), Segment(60, 1222, 15))
MATTE = WareFacts(name="Sluice Matte", is_matte=True)
STOUT = WareFacts(name="Weir Stoneware", cone_low=CONES["5"], cone_high=CONES["7"])
CLEAR = WareFacts(name="Millpond Clear", cone_low=CONES["5"], cone_high=CONES["6"])


def codes(segments=GOOD, **facts):
    cones = {name: CONES[facts[name]] for name in ("target", "low", "high", "kiln_high") if facts.get(name)}
    found = schedule_findings(ScheduleFacts(segments=segments, **{**facts, **cones}))
    return {finding.code for finding in found}


def test_a_plain_schedule_is_left_in_peace():
    assert codes(target="6", low="5", high="7", kiln_high="8", bodies=[STOUT], glazes=[CLEAR]) == set()


# What is said, with what brings it; and what is one step milder and brings nothing of the kind.
CASES = [
    # Cone 8 ends at 1270 °C at 150 °C/h: fixtures/cones.csv.
    (
        "segment_above_kiln",
        {"segments": [Segment(60, 1280, 15)], "kiln_high": "8"},
        {"segments": [Segment(60, 1260, 15)], "kiln_high": "8"},
    ),
    (
        "predicted_above_kiln",
        {"low": "7", "high": "8", "kiln_high": "6"},
        {"low": "6", "high": "8", "kiln_high": "6"},
    ),
    (
        "predicted_off_target",
        {"low": "7", "high": "8", "target": "6"},
        {"low": "6", "high": "8", "target": "6"},
    ),
    (
        "predicted_off_target",
        {"low": "4", "high": "5", "target": "6"},
        {"low": "4", "high": "6", "target": "6"},
    ),
    (
        "predicted_outside_body",
        {"low": "8", "high": "8", "bodies": [STOUT]},
        {"low": "7", "high": "8", "bodies": [STOUT]},
    ),
    (
        "predicted_outside_body",
        {"low": "04", "high": "4", "bodies": [STOUT]},
        {"low": "04", "high": "4", "bodies": [STOUT], "kind": "bisque"},
    ),
    (
        "predicted_outside_glaze",
        {"low": "7", "high": "8", "glazes": [CLEAR]},
        {"low": "6", "high": "8", "glazes": [CLEAR]},
    ),
    (
        "predicted_outside_glaze",
        {"low": "1", "high": "4", "glazes": [CLEAR]},
        {"high": "4", "low": "1", "glazes": [WareFacts(name="x")]},
    ),
    # 100 °C at 67 °C/h are 90 minutes.
    (
        "drying_quick",
        {"segments": [Segment(70, 1020)], "kind": "bisque"},
        {"segments": [Segment(70, 110, 30), Segment(70, 1020)], "kind": "bisque"},
    ),
    (
        "drying_quick",
        {"segments": [Segment(None, 1020)], "kind": "bisque"},
        {"segments": [Segment(None, 1020)], "kind": "glaze"},
    ),
    ("climb_unlikely", {"segments": [Segment(601, 1220, 15)]}, {"segments": [Segment(600, 1220, 15)]}),
    (  # what only holds climbs at no rate, whatever is written beside it
        "climb_unlikely",
        {"segments": [Segment(700, 1220), Segment(900, 1220, 15)]},
        {"segments": [Segment(600, 1220), Segment(900, 1220, 15)]},
    ),
    ("quartz_fast", {"segments": [Segment(84, 1220, 15)]}, {"segments": [Segment(83, 1220, 15)]}),
    (
        "quartz_fast",
        {"segments": [Segment(200, 570), Segment(50, 1220, 15)]},
        {"segments": [Segment(200, 560), Segment(50, 1220, 15)]},
    ),
    ("quartz_cooled_fast", {"segments": [*GOOD, Segment(51, 500)]}, {"segments": [*GOOD, Segment(50, 500)]}),
    (
        "quartz_cooled_fast",
        {"segments": [*GOOD, Segment(100, 580)]},
        {"segments": [*GOOD, Segment(None, 500)]},
    ),
    (
        "bisque_tight",
        {"kind": "bisque", "low": "03", "high": "1"},
        {"kind": "bisque", "low": "04", "high": "1"},
    ),
    ("bisque_tight", {"kind": "bisque", "target": "03"}, {"kind": "bisque", "target": "04"}),
    (
        "hold_short",
        {"segments": [Segment(60, 1222, 9)]},
        {"segments": [Segment(60, 1222, 4), Segment(200, 1180, 6)]},
    ),
    ("hold_short", {"segments": [Segment(60, 1222)]}, {"segments": [Segment(60, 1020)], "kind": "bisque"}),
    ("hold_long", {"segments": [Segment(60, 1222, 61)]}, {"segments": [Segment(60, 1222, 60)]}),
    ("no_slow_cooling", {"glazes": [MATTE]}, {"glazes": [CLEAR]}),
    (
        "no_slow_cooling",
        {"glazes": [MATTE], "segments": [*GOOD, Segment(81, 700)]},
        {"glazes": [MATTE], "segments": [*GOOD, Segment(80, 700)]},
    ),
    (
        "no_slow_cooling",
        {"glazes": [MATTE], "segments": [*GOOD, Segment(None, 800)]},
        {"glazes": [MATTE], "segments": [*GOOD, Segment(None, 800, 30)]},
    ),
]


@pytest.mark.parametrize(
    ("code", "brings", "milder"), CASES, ids=[f"{c[0]}-{n}" for n, c in enumerate(CASES)]
)
def test_each_rule_on_both_sides(code, brings, milder):
    assert code in codes(**brings)
    assert code not in codes(**milder)


def test_every_rule_is_tried():
    assert {case[0] for case in CASES} == set(RULES)


def test_nothing_is_judged_of_what_is_not_known():
    assert codes(target="6", bodies=[STOUT], glazes=[CLEAR], kiln_high="8") == set()


@pytest.mark.parametrize("unit", ["c", "f"])
def test_every_finding_speaks_with_its_figures_in_the_persons_unit(unit):
    for code, brings, _milder in CASES:
        cones = {name: CONES[v] for name, v in brings.items() if isinstance(v, str) and v in CONES}
        facts = ScheduleFacts(**{"segments": GOOD, **brings, **cones})
        found = next(finding for finding in schedule_findings(facts) if finding.code == code)
        with units.shown_as(temperature=unit, amounts="metric"):
            words = sentence(found)
        assert not re.search(r"%|None|Cone\(|\bsafe\b", words), words
        assert words.count(".") > 1, "what is the case, why, and what to do"
        assert source_words(found)
        if "quartz" in found.details:
            assert {"c": "573\u00a0°C", "f": "1063\u00a0°F"}[unit] in words


def test_the_gravest_comes_first():
    facts = ScheduleFacts(segments=[Segment(200, 1300, 5), Segment(99, 500)], kiln_high=CONES["6"])
    levels = [finding.level for finding in schedule_findings(facts)]
    assert levels == ["stop", "warn", "note", "note"]


def test_segments_and_times_in_words():
    kept = [
        Segment(100, 620, 15),
        Segment(None, 1222),
        Segment(60, 760),
        Segment(None, 700),
        Segment(50, 700, 90),
    ]
    assert [words.replace("\u00a0", " ") for words in segments_words(kept)] == [
        "100 °C/h to 620 °C, hold 15 minutes",
        "as fast as it goes to 1222 °C",
        "cool at 60 °C/h to 760 °C",
        "cool by itself to 700 °C",
        "hold 700 °C for 1 h 30 min",
    ]
    assert [duration_words(n).replace("\u00a0", " ") for n in (1, 59.6, 500)] == [
        "1 minute",
        "1 h",
        "8 h 20 min",
    ]


GIVEN = {"rate_c_per_h": 100, "to_c": 600, "hold_min": 0}
REFUSED = [
    (3, "not_rows"),
    ([], "none"),
    ([GIVEN] * 21, "too_many"),
    ([{"x": 1}], "unknown_field"),
    ([{}], "missing"),
    ([{**GIVEN, "to_c": "6"}], "not_a_number"),
    ([{**GIVEN, "to_c": 3000}], "out_of_range.to_c"),
    ([{**GIVEN, "rate_c_per_h": 0}], "out_of_range.rate_c_per_h"),
    ([{**GIVEN, "hold_min": -1}], "out_of_range.hold_min"),
    ([GIVEN, GIVEN], "goes_nowhere"),
    ([{**GIVEN, "rate_c_per_h": 1}] * 1, "too_long"),
]


def test_every_refusal_says_what_to_do():
    for rows, code in REFUSED:
        with pytest.raises(ScheduleError) as caught:
            segments_of(rows)
        words = refusal_words(caught.value)
        assert caught.value.code == code.partition(".")[0]
        assert words.startswith(str(REFUSALS[code]).split("%", 1)[0])
        assert "%(" not in words
    assert {code for _rows, code in REFUSED} == set(REFUSALS)
