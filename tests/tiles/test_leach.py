"""The rules of judging: the 50 % rule, limits of detection, units that do not convert, and never better by worse."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tiles.calc.leach import LeachError, judge
from tiles.calc.leach_limits import limits

# More-pieces-needed and cannot-say are alike: neither says anything.
RANK = {"within": 0, "more-pieces-needed": 1, "cannot-say": 1, "over": 2}


def lead(standard, category, *amounts, unit="mg_per_l"):
    return judge(standard, category, [{f"lead_{unit}": amount} for amount in amounts])


@pytest.mark.parametrize(
    ("amounts", "verdict", "needed"),
    [
        ([4.0], "within", 0),
        # Art. 2(5) of 84/500/EEC, limit 4.0 mg/L: over by no more than half, and three others ...
        ([5.0], "more-pieces-needed", 3),
        ([5.0, 3.0, 3.0], "more-pieces-needed", 1),
        ([5.0, 3.5, 3.5, 4.0], "within", 0),  # ... whose average is not over
        ([4.5, 4.4, 3.5, 3.5], "within", 0),  # two are over, and each has three others: 11.4 and 11.5 / 3
        (
            [5.0, 4.5, 3.5, 3.9],
            "over",
            0,
        ),  # the others of the 5.0 would do, those of the 4.5 do not: 12.4 / 3
        ([6.0, 4.0, 4.0, 4.0], "within", 0),  # exactly half over
        ([5.0, 4.1, 4.0, 4.0], "over", 0),  # ... whose average is over
        ([5.0, 6.1, 1.0, 1.0], "over", 0),  # ... of which one is over by more than half
        ([6.1], "over", 0),  # itself over by more than half: no others help
        ([6.1, 0, 0, 0], "over", 0),
    ],
)
def test_the_fifty_percent_rule(amounts, verdict, needed):
    judged = lead("eu-84-500", "cups-and-mugs", *amounts)
    assert (judged.verdict, judged.pieces_needed) == (verdict, needed)
    (metal,) = judged.metals
    assert metal.by_fifty_percent == (verdict == "within" and max(amounts) > 4)
    assert metal.is_boundary or not metal.by_fifty_percent


def test_a_mean_hides_a_piece_that_is_named():
    (metal,) = lead("us-fda", "flatware", 9, 1, 1, 1, 1, 1).metals
    assert (metal.verdict, metal.counted, metal.above) == ("within", Decimal(14) / 6, (1,))
    assert metal.is_boundary
    assert not metal.by_fifty_percent
    assert not lead("us-fda", "flatware", 2, 1, 1, 1, 1, 1).is_boundary


def test_a_mean_that_missing_pieces_cannot_save_is_over():
    assert lead("us-fda", "flatware", 17.9).verdict == "more-pieces-needed"
    assert lead("us-fda", "flatware", 18.1).verdict == "over"


@pytest.mark.parametrize(
    ("amounts", "verdict"),
    [
        (["<0.02"] * 6, "within"),
        (["<0.5"] * 6, "within"),
        (["<0.6", *["<0.1"] * 5], "cannot-say"),
        (["<0.6", 0.51, *[0.1] * 4], "over"),
    ],
)
def test_below_detection_is_counted_at_its_bound(amounts, verdict):
    judged = lead("us-fda", "pitchers", *amounts)
    assert judged.verdict == verdict
    assert judged.metals[0].unknown == ((1,) if "<0.6" in amounts else ())


def test_a_metal_that_was_not_measured_is_named():
    judged = lead("canada", "pitchers", 0.1)
    assert (judged.verdict, judged.not_measured, judged.is_complete) == ("within", ("Cd",), False)
    only_other = judge("california-65", "pitchers", [{"cadmium_mg_per_l": 9, "barium_mg_per_l": 1}])
    assert (only_other.verdict, only_other.without_limit) == ("cannot-say", ("Cd", "Ba"))


@pytest.mark.parametrize(
    ("code", "standard", "category", "results"),
    [
        ("unit", "eu-84-500", "flatware", [{"lead_mg_per_l": 0.1}]),
        ("unit", "iso-6486-2", "flatware", [{"cadmium_mg_per_l": "<0.1"}]),
        ("unit", "us-fda", "flatware", [{"lead_mg_per_dm2": 0.1}]),
        ("unit", "japan", "storage", [{"lead_mg_per_dm2": 0.1}]),
        ("both_units", "canada", "flatware", [{"lead_mg_per_l": 1}, {"lead_mg_per_dm2": 1}]),
        ("unknown_standard", "us", "flatware", [{"lead_mg_per_l": 1}]),
        ("unknown_category", "iso-6486-2", "pitchers", [{"lead_mg_per_l": 1}]),
        ("unknown_key", "canada", "flatware", [{"lead": 1}]),
        ("not_a_number", "canada", "flatware", [{"lead_mg_per_l": "trace"}]),
        ("not_a_number", "canada", "flatware", [{"lead_mg_per_l": True}]),
        ("not_a_number", "canada", "flatware", [{"lead_mg_per_l": float("nan")}]),
        ("negative", "canada", "flatware", [{"lead_mg_per_l": -0.1}]),
        ("two_ways", "canada", "flatware", [{"lead_mg_per_l": "1,200"}]),
        ("no_results", "canada", "flatware", []),
        ("no_results", "canada", "flatware", [{"lead_mg_per_l": None}]),
    ],
)
def test_what_cannot_be_judged_is_refused(code, standard, category, results):
    with pytest.raises(LeachError) as refused:
        judge(standard, category, results)
    assert refused.value.code == code


RULES = st.sampled_from([("us-fda", "flatware"), ("us-fda", "pitchers"), ("eu-84-500", "pitchers")])
# In hundredths of the limit; a second number: below detection.
FIGURE = st.tuples(st.integers(0, 200), st.booleans())


def judged_at(rule, figures):
    limit = limits(*rule)["Pb"].limit
    return lead(*rule, *[f"{'<' if below else ''}{limit * share / 100}" for share, below in figures])


@settings(max_examples=25)
@given(RULES, st.lists(FIGURE, min_size=1, max_size=8), st.integers(0, 100), st.booleans())
def test_a_worse_figure_never_improves_the_verdict(rule, figures, more, measured):
    before = RANK[judged_at(rule, figures).verdict]
    share, below = figures[0]
    worse = [(share + more, below and not measured), *figures[1:]]
    assert RANK[judged_at(rule, worse).verdict] >= before


@settings(max_examples=25)
@given(RULES, st.lists(FIGURE, min_size=6, max_size=8), st.integers(0, 100))
def test_a_worse_piece_never_improves_the_verdict(rule, figures, more):
    """Of as many pieces as any standard asks for: fewer say less, and one more may settle it."""
    before = RANK[judged_at(rule, figures).verdict]
    worst = max(share for share, _ in figures) + more
    assert RANK[judged_at(rule, [*figures, (worst, False)]).verdict] >= before
