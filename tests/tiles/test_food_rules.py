"""The rules about ware and food: every line of the studio's list, and what no fact may do to a verdict.

The list is the studio's own decision. Which elements are of concern: J. Hesselberth, Glaze Stability (1998, 2008), for
barium, chromium, cobalt, copper, lithium and nickel; the rest is common practice. That a test is of a fired piece:
84/500/EEC, Annex I.
"""

from dataclasses import replace
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.calc.cones import Cone
from inventory.models import Glaze, GlazeSubstance
from tiles.calc import food_facts
from tiles.calc.food import food_lines, of_layer, verdict
from tiles.calc.food_facts import (
    KEEPS_AWAY,
    LEAVES_UNKNOWN,
    RULES,
    VERDICTS,
    FoodLayer,
    Heat,
    Line,
    Report,
    Ware,
)
from tiles.models import OutcomeFault

CONE = Cone.parse
FIT = FoodLayer(name="Weir", label="food_safe", cone_low=CONE("5"), cone_high=CONE("7"))
WITHIN = Report("lab 1", True, "within")
MUG = Ware(
    what="pot",
    layers=(FIT,),
    food_side=("inside",),
    has_lip=True,
    heats=(Heat(CONE("6"), "chosen"),),
    reports=(WITHIN,),
)
TILE = replace(MUG, what="tile", food_side=("top", "middle", "bottom"), has_lip=False, firings=1)


def of(ware):
    return verdict(food_lines(ware))


def codes(ware):
    return [line.code for line in food_lines(ware)]


def layer(ware, **fields):
    return replace(ware, layers=(replace(ware.layers[0], **fields), *ware.layers[1:]))


def test_a_report_within_and_nothing_else_is_on_record():
    assert codes(MUG) == ["lab_within", "label_quoted"]
    assert of(MUG) == of(TILE) == "on_record"


def test_labels_alone_end_at_labels_only():
    assert codes(replace(MUG, reports=())) == ["labels_only", "label_quoted"]
    assert of(replace(MUG, reports=())) == "not_known"


@pytest.mark.parametrize("what", ["glaze", "fill", "combination"])
def test_what_is_no_fired_ware_is_never_on_record(what):
    assert of(replace(MUG, what=what)) == "not_known"


KEPT = {
    "label": {"label": "not_for_food"},
    "contaminated then": {"flags": (("contaminated", "ABCDEF", "then"),)},
    "wrong label since": {"flags": (("wrong_label", "ABCDEF", "since"),)},
    "not for food now": {"flags": (("not_for_food", "ABCDEF", "now"),)},
    "over in ware of it alone": {"over_alone": ("lab 2",)},
    **{
        element: {"substances": ((element, None, "maker"),)}
        for element in ("Pb", "Cd", "As", "Sb", "Se", "U")
    },
}


@pytest.mark.parametrize("fields", KEPT.values(), ids=KEPT)
def test_what_keeps_a_layer_away_keeps_everything_away(fields):
    for what in ("glaze", "fill", "tile", "combination", "pot"):
        assert of(layer(replace(MUG, what=what), **fields)) == "kept_away"


UNKNOWN = {
    "nobody read it": {"label": ""},
    "no bucket": {"label": "no_bucket"},
    "mixed here, in no bucket that is noted": {"label": "mixed_no_bucket"},
    "stirred together": {"stirred_in": "Sluice"},
    "something was added to the bucket": {"added": ("soda ash",)},
    "a stain may be cadmium": {"substances": (("stain", None, "container"),)},
    "too cool": {"cone_low": CONE("7"), "cone_high": CONE("8")},
    "too hot": {"cone_low": CONE("04"), "cone_high": CONE("5")},
    "no range": {"cone_low": None, "cone_high": None},
    **{
        element: {"substances": ((element, 0.1, "recipe"),)}
        for element in ("Ba", "Mn", "V", "Cr", "Ni", "Co", "Cu", "Li", "Zn", "Sr")
    },
}


@pytest.mark.parametrize("fields", UNKNOWN.values(), ids=UNKNOWN)
def test_what_leaves_a_layer_unknown_outweighs_any_report(fields):
    assert of(layer(MUG, **fields)) == of(layer(TILE, **fields)) == "not_known"


def test_an_amount_is_told_as_it_was_read():
    lines = food_lines(layer(MUG, substances=(("Ba", 4.25, "data_sheet"),)))
    assert lines[0].details["percent"] == 4.25


SPOILED = ("crazing", "pinholing", "blistering", "crawling", "underfired")


@pytest.mark.parametrize("fault", SPOILED)
def test_a_fault_on_the_food_side_keeps_ware_away(fault):
    assert of(replace(TILE, faults=((fault, "rim"),))) == "kept_away"
    # Of a pot that is only planned nobody knows yet whether it will have it.
    assert of(replace(MUG, faults=((fault, "Tile 3"),))) == "not_known"


def test_every_fault_has_its_place_in_the_rules():
    told = {*food_facts.SPOILED_BY, *food_facts.SPOILED_TOO, *food_facts.DOUBTFUL}
    assert set(OutcomeFault.Kind.values) - told == {"running"}
    assert {*KEEPS_AWAY, *LEAVES_UNKNOWN, "stain"} == set(GlazeSubstance.Substance.values)


def test_dry_bare_uncovered():
    assert of(replace(TILE, is_dry=True)) == "kept_away"
    assert of(replace(MUG, is_dry=True)) == "not_known"
    assert codes(layer(MUG, area="outside"))[:2] == ["bare", "lip_bare"]
    assert codes(layer(MUG, area="inside"))[0] == "lip_bare"
    assert codes(layer(TILE, area="upper"))[0] == "bare"
    assert codes(layer(TILE, is_wiped_back=True))[0] == "bare"
    for kind in ("underglaze", "slip", "wash"):
        assert of(layer(MUG, kind=kind)) == "kept_away"
        covered = replace(MUG, layers=(replace(FIT, kind=kind), FIT))
        assert of(covered) == "on_record"
        half = replace(MUG, layers=(replace(FIT, kind=kind), replace(FIT, area="inside")))
        assert codes(half)[0] == "uncovered"
        outside = replace(FIT, kind=kind, area="outside")
        assert (
            of(replace(MUG, layers=(outside, replace(FIT, area="inside"), replace(FIT, area="lip"))))
            == "kept_away"
        )
    for kind in ("engobe", "terra_sigillata"):
        assert of(layer(MUG, kind=kind)) == "kept_away"
        bare_outside = replace(FIT, kind=kind, area="outside")
        assert of(
            replace(MUG, layers=(bare_outside, replace(FIT, area="inside"), replace(FIT, area="lip")))
        ) == ("on_record")


def test_a_layering_is_known_only_when_it_was_tested_itself():
    two = replace(MUG, layers=(FIT, replace(FIT, name="Sluice")))
    assert of(two) == "on_record"
    assert "layering_untested" in codes(replace(two, reports=()))
    assert codes(replace(two, reports=(replace(WITHIN, is_exact=False),)))[0] == "layering_untested"
    apart = replace(MUG, layers=(replace(FIT, area="outside"), replace(FIT, area="inside")), reports=())
    assert "layering_untested" not in codes(apart)


FIRED = {
    "refired": {"firings": 2},
    "lead in the kiln": {"kilns": (("Kiln 1", "lead_or_cadmium"),)},
    "lustre in the kiln": {"kilns": (("Kiln 1", "lustre"),)},
    "which kiln is not said": {"kilns_to_ask": ("Kiln 1",)},
    "salt in the kiln": {"kilns": (("Kiln 1", "salt"),)},
    "not fired": {"heats": ()},
    "cone not known": {"heats": (Heat(None, "witness_short"),)},
    "only planned": {"heats": (Heat(CONE("6"), "planned"),)},
    "the log says another cone than the witness": {"heats": (Heat(CONE("6"), "witness_here", CONE("8")),)},
    "screens": {"trials": (("scratch", "failed", "scratch"),)},
}


@pytest.mark.parametrize("fields", FIRED.values(), ids=FIRED)
def test_how_it_was_fired_may_leave_it_unknown(fields):
    assert of(replace(TILE, **fields)) == "not_known"


def test_a_lustre_is_asked_for_its_own_firing():
    lustre = FoodLayer(
        name="Gold", kind="lustre", label="food_safe", cone_low=CONE("019"), cone_high=CONE("017")
    )
    heats = (Heat(CONE("6"), "log"), Heat(CONE("018"), "log", kind="overglaze"))
    assert of(replace(TILE, layers=(FIT, lustre), heats=heats)) == "on_record"
    hotter = (heats[0], Heat(CONE("016"), "log", kind="overglaze"))
    assert codes(replace(TILE, layers=(FIT, lustre), heats=hotter))[0] == "outside_cone"


REPORTS = {  # of an exact report, what it ends at
    "over": (Report("r", True, "over"), "kept_away"),
    "within": (WITHIN, "on_record"),
    "near the limit": (replace(WITHIN, is_boundary=True), "not_known"),
    "a metal not measured": (replace(WITHIN, is_complete=False), "not_known"),
    "judged as another kind of ware": (replace(WITHIN, is_milder=True), "not_known"),
    "a limit that nobody read": (replace(WITHIN, is_unverified=True), "not_known"),
    "too few pieces": (replace(WITHIN, verdict="more-pieces-needed"), "not_known"),
    "cannot say": (replace(WITHIN, verdict="cannot-say"), "not_known"),
    "cannot be judged": (replace(WITHIN, verdict=None), "not_known"),
}


@pytest.mark.parametrize(("report", "expected"), REPORTS.values(), ids=REPORTS)
def test_what_a_report_does(report, expected):
    assert of(replace(MUG, reports=(report,))) == expected
    assert of(replace(MUG, reports=(WITHIN, report))) == expected
    near = replace(report, is_exact=False)
    assert of(replace(MUG, reports=(near,))) == "not_known"
    worse = "not_known" if report.verdict == "over" else "on_record"
    assert of(replace(MUG, reports=(WITHIN, near))) == worse


def test_a_trial_at_home_only_ever_takes_away():
    for kind in ("acid", "dishwasher", "thermal_shock"):
        assert of(replace(TILE, trials=((kind, "failed", kind),))) == "kept_away"
    unclear = (("acid", "unclear", "acid"),)
    assert of(replace(TILE, trials=unclear)) == "not_known"
    good = (("acid", "not_yet_failed", "acid"), ("dishwasher", "", "running"))
    assert of(replace(TILE, reports=(), trials=good)) == "not_known"
    assert of(replace(TILE, trials=good)) == "on_record"


# What can be said against ware, each as a change of it. None of them, in whatever company, improves a verdict.
LABELS = ("food_safe", "none", "mixed", "", "no_bucket", "not_for_food")
BAD = {
    "flag": lambda w: layer(w, flags=(*w.layers[0].flags, ("contaminated", "B", "then"))),
    "lead": lambda w: layer(w, substances=(*w.layers[0].substances, ("Pb", None, "maker"))),
    "cobalt": lambda w: layer(w, substances=(*w.layers[0].substances, ("Co", 1.0, "maker"))),
    "stain": lambda w: layer(w, substances=(*w.layers[0].substances, ("stain", None, "maker"))),
    "over": lambda w: replace(w, reports=(*w.reports, Report("bad", True, "over"))),
    "near over": lambda w: replace(w, reports=(*w.reports, Report("bad", False, "over"))),
    "boundary": lambda w: replace(w, reports=(*w.reports, Report("b", True, "within", is_boundary=True))),
    "crazed": lambda w: replace(w, faults=(*w.faults, ("crazing", "rim"))),
    "orange peel": lambda w: replace(w, faults=(*w.faults, ("orange_peel", "rim"))),
    "dry": lambda w: replace(w, is_dry=True),
    "refired": lambda w: replace(w, firings=w.firings + 2),
    "kiln": lambda w: replace(w, kilns=(*w.kilns, ("Kiln", "salt"))),
    "kiln not named": lambda w: replace(w, kilns_to_ask=(*w.kilns_to_ask, "Kiln")),
    "trial": lambda w: replace(w, trials=(*w.trials, ("acid", "failed", "acid"))),
    "hot": lambda w: replace(w, heats=(*w.heats, Heat(CONE("10"), "log"))),
    "stirred": lambda w: layer(w, stirred_in="Sluice"),
    "added": lambda w: layer(w, added=(*w.layers[0].added, "soda ash")),
    "judged milder": lambda w: replace(w, reports=(*w.reports, replace(WITHIN, is_milder=True))),
    "marked": lambda w: replace(w, marks=(*w.marks, "contaminated")),
}


def weight(ware):
    return VERDICTS.index(of(ware))


def test_no_pair_of_bad_facts_improves_a_verdict():
    """Exhaustive: every kind of record, every label, every pair of bad facts, one after the other."""
    tried = 0
    for start, label in product(
        (MUG, TILE, replace(MUG, what="combination"), replace(MUG, what="fill")), LABELS
    ):
        begun = layer(start, label=label)
        for one, other in combinations(BAD.values(), 2):
            steps = [weight(begun), weight(one(begun)), weight(other(one(begun)))]
            assert steps == sorted(steps)
            tried += 1
    assert tried == 4 * 6 * 171


def test_taking_a_favourable_label_away_never_improves():
    for start, bad, label in product((MUG, TILE), (lambda w: w, *BAD.values()), LABELS):
        for quoted in ("food_safe", "dinnerware_safe"):
            assert weight(bad(layer(start, label=label))) >= weight(bad(layer(start, label=quoted)))


KINDS = [kind for kind in Glaze.Kind.values if kind != "wax"]
a_layer = st.builds(
    FoodLayer,
    name=st.sampled_from(["Weir", "Sluice"]),
    kind=st.sampled_from(KINDS),
    area=st.sampled_from(["whole", "inside", "outside", "lip", "upper", "lower"]),
    label=st.sampled_from(LABELS),
    substances=st.lists(
        st.tuples(st.sampled_from([*KEEPS_AWAY, *LEAVES_UNKNOWN, "stain"]), st.none(), st.just("maker")),
        max_size=1,
    ).map(tuple),
    cone_low=st.sampled_from([None, CONE("5")]),
    cone_high=st.sampled_from([None, CONE("7")]),
)
a_report = st.builds(
    Report,
    words=st.sampled_from("abc"),
    is_exact=st.booleans(),
    verdict=st.sampled_from(["within", "over", "more-pieces-needed", "cannot-say", None]),
    is_boundary=st.booleans(),
)
some_ware = st.builds(
    Ware,
    what=st.sampled_from(["glaze", "fill", "tile", "combination", "pot"]),
    layers=st.lists(a_layer, min_size=1, max_size=4).map(tuple),
    food_side=st.sampled_from([("inside",), ("top", "middle", "bottom")]),
    has_lip=st.booleans(),
    heats=st.sampled_from([(), (Heat(CONE("6"), "log"),), (Heat(None, "witness_short"),)]),
    reports=st.lists(a_report, max_size=3).map(tuple),
)


@settings(max_examples=25, deadline=None)
@given(some_ware, st.lists(st.sampled_from(sorted(BAD)), max_size=4))
def test_whatever_it_is_a_bad_fact_never_improves_it(ware, bad):
    before = weight(ware)
    for name in bad:
        ware = BAD[name](ware)
        assert weight(ware) >= before
        before = weight(ware)


@settings(max_examples=25, deadline=None)
@given(some_ware)
def test_a_stack_is_never_better_than_its_worst_layer(ware):
    worst = max(
        (VERDICTS.index(line.verdict) for each in ware.layers for line in of_layer(each) if line.verdict),
        default=0,
    )
    assert weight(ware) >= worst


def test_every_rule_has_its_weight_and_a_record_without_reasons_is_not_known():
    assert {verdict([Line(code)]) for code in RULES} == set(VERDICTS)
    assert of(Ware(what="pot")) == "not_known"
