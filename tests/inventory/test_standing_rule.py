"""The two answers about a fill, by the studio's own decision; neither is folded into the other."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.standing import FOOD, USE_ORDER, FillFacts, standing

PLAIN = FillFacts(
    contaminated=False,
    wrong_label=False,
    dried_out=False,
    settled_hard=False,
    other=False,
    not_for_food_flag=False,
    sg=Decimal("1.45"),
    sg_age_days=3.0,
    sg_low=Decimal("1.42"),
    sg_high=Decimal("1.48"),
    stale_after_days=30,
    level="half",
    origin="bought",
    label="food_safe",
)


@pytest.mark.parametrize(
    ("change", "use", "reasons"),
    [
        ({}, "use", ()),
        ({"contaminated": True}, "do_not_use", ("contaminated",)),
        ({"wrong_label": True}, "do_not_use", ("wrong_label",)),
        ({"dried_out": True}, "ask", ("dried_out",)),
        ({"settled_hard": True}, "ask", ("settled_hard",)),
        ({"other": True}, "ask", ("other",)),
        ({"sg": Decimal("1.419")}, "ask", ("sg_low",)),
        ({"sg": Decimal("1.42")}, "use", ()),
        ({"sg": Decimal("1.48")}, "use", ()),
        ({"sg": Decimal("1.481")}, "ask", ("sg_high",)),
        ({"sg": Decimal("1.9"), "sg_high": None}, "use", ()),
        ({"level": "empty"}, "ask", ("empty",)),
        ({"level": "nearly_empty"}, "use", ()),
        ({"level": ""}, "use", ()),
        ({"not_for_food_flag": True}, "use", ()),
        (
            {
                "level": "empty",
                "other": True,
                "sg": Decimal("1.3"),
                "wrong_label": True,
                "contaminated": True,
            },
            "do_not_use",
            ("contaminated", "wrong_label", "other", "sg_low", "empty"),
        ),
    ],
)
def test_use(change, use, reasons):
    result = standing(replace(PLAIN, **change))
    assert (result.use, result.use_reasons) == (use, reasons)


@pytest.mark.parametrize(
    ("change", "notes"),
    [
        ({"sg_age_days": 30.0}, ()),
        ({"sg_age_days": 30.1}, ("sg_stale",)),
        ({"sg": None, "sg_age_days": None}, ("sg_never",)),
    ],
)
def test_an_old_or_missing_reading_is_a_note_and_forbids_nothing(change, notes):
    result = standing(replace(PLAIN, **change))
    assert (result.use, result.notes) == ("use", notes)


@pytest.mark.parametrize(
    ("change", "food", "reasons"),
    [
        ({}, "label_food_safe", ()),
        ({"label": "dinnerware_safe"}, "label_dinnerware_safe", ()),
        ({"label": "none"}, "label_none", ()),
        ({"label": ""}, "not_read", ()),
        ({"label": "not_for_food"}, "keep_from_food", ("label_not_for_food",)),
        ({"not_for_food_flag": True}, "keep_from_food", ("flag_not_for_food",)),
        ({"toxic_inside": True}, "keep_from_food", ("toxic_inside",)),
        ({"toxic_inside": True, "origin": "mixed"}, "keep_from_food", ("toxic_inside",)),
        (
            {"not_for_food_flag": True, "label": "not_for_food"},
            "keep_from_food",
            ("flag_not_for_food", "label_not_for_food"),
        ),
        ({"origin": "mixed", "label": ""}, "mixed_here", ()),
        (
            {"origin": "mixed", "label": "food_safe"},
            "mixed_here",
            (),
        ),  # an author's claim counts as not known
        ({"origin": "mixed", "not_for_food_flag": True}, "keep_from_food", ("flag_not_for_food",)),
    ],
)
def test_food(change, food, reasons):
    result = standing(replace(PLAIN, **change))
    assert (result.food, result.food_reasons) == (food, reasons)


maybe_sg = st.none() | st.integers(1001, 2500).map(lambda n: Decimal(n) / 1000)
any_facts = st.builds(
    FillFacts,
    contaminated=st.booleans(),
    wrong_label=st.booleans(),
    dried_out=st.booleans(),
    settled_hard=st.booleans(),
    other=st.booleans(),
    not_for_food_flag=st.booleans(),
    sg=maybe_sg,
    sg_age_days=st.none() | st.floats(0, 1000),
    sg_low=maybe_sg,
    sg_high=maybe_sg,
    stale_after_days=st.integers(1, 365),
    level=st.sampled_from(["", "full", "three_quarters", "half", "quarter", "nearly_empty", "empty"]),
    origin=st.sampled_from(["bought", "mixed"]),
    label=st.sampled_from(["", "food_safe", "dinnerware_safe", "not_for_food", "none"]),
)


@given(any_facts)
def test_one_more_flag_never_makes_a_fill_milder(facts):
    before = standing(facts)
    assert before.food in FOOD
    for flag in ("contaminated", "wrong_label", "dried_out", "settled_hard", "other"):
        after = standing(replace(facts, **{flag: True}))
        assert USE_ORDER.index(after.use) >= USE_ORDER.index(before.use)
        assert set(after.use_reasons) == {*before.use_reasons, flag}
        assert after.food == before.food
    assert standing(replace(facts, not_for_food_flag=True)).food == "keep_from_food"
    assert standing(replace(facts, not_for_food_flag=True)).use == before.use
