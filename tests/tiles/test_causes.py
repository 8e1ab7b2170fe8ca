"""Likely causes: what the ranking may and may not do, and what it learns."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import change_remedy, change_tile, drop_remedy, plan_remedy, record_outcome
from tiles.actions.many import repeat_tile
from tiles.calc.causes import OBSERVATIONS, OPPOSITES, Cause, Tried, learned, of_fault, rank, tells_apart
from tiles.causes import CODES, causes_in_force, standard_text, why
from tiles.models import OutcomeFault, RemedyTrial
from tiles.observed_sentences import question

CRAZED = {"zone": "whole", "faults": [{"kind": "crazing", "where": "lip"}]}
SEEN = st.dictionaries(st.sampled_from(OBSERVATIONS), st.sampled_from([True, False, None]), max_size=12)


def tried(*, by, trial, faults=()):
    """The trial's tile glazed as the one with the fault, fired and looked at."""
    tile = trial.new_tile
    repeat_tile(by=by, source=trial.tile, tile=tile)
    make.fire(make.firing(), tile)
    record_outcome(by=by, tile=tile, zone="whole", surface="glossy", faults=list(faults))


def share_of(ranked, code):
    return next(one.share for one in ranked if one.cause.code == code)


@pytest.fixture(scope="module")
def table():
    from tiles.calc.cause_table import read_table

    return read_table(standard_text(), CODES)[0]


@settings(max_examples=25, deadline=None)
@given(fault=st.sampled_from([kind for kind in OutcomeFault.Kind.values if kind != "other"]), seen=SEEN)
def test_what_nobody_knows_moves_nothing_and_nothing_is_certain(table, fault, seen):
    ranked = rank(of_fault(table, fault), seen)
    known = {code: is_so for code, is_so in seen.items() if is_so is not None}
    assert rank(of_fault(table, fault), known) == ranked
    # There is always room for a cause that the table does not name.
    assert 0 < sum(one.share for one in ranked) < 1
    for one in ranked:
        assert {code for code, _so, _by in one.moved} <= known.keys() & one.cause.weights.keys()


@settings(max_examples=25, deadline=None)
@given(fault=st.sampled_from(["crazing", "pinholing", "running"]), seen=SEEN, data=st.data())
def test_seeing_what_speaks_for_a_cause_never_lowers_it_against_the_others(table, fault, seen, data):
    causes = of_fault(table, fault)
    cause = data.draw(st.sampled_from(causes))
    code = data.draw(st.sampled_from([code for code, weight in cause.evidence if weight > 0]))
    others = [one for one in causes if code not in one.weights]
    pair = [cause, *others[:1]]
    so, not_so = (share_of(rank(pair, {**seen, code: value}), cause.code) for value in (True, False))
    assert so >= share_of(rank(pair, {**seen, code: None}), cause.code) >= not_so


def test_the_prior_learns_slowly():
    assert [round(learned(Tried(n, 0)), 2) for n in (0, 1, 4, 100)] == [1.0, 1.2, 1.5, 1.96]
    assert learned(Tried(0, 3)) < learned(Tried(1, 2)) < 1 < learned(Tried(2, 1))


def test_the_record_is_weighed_and_said_in_sentences(member):
    bucket = make.fill(make.glaze(sg_low="1.40", sg_high="1.45"), sg="1.60")
    tile = make.fired_tile(by=member, layers=[{"fill": bucket, "thickness_mm": "2.0"}], outcome=CRAZED)
    told = why(tile, "crazing", member)
    first = told.causes[0]
    assert first.code == "too_thick"
    assert "The glaze lies thick: 2 mm." in first.speaks_for
    assert any("1.60" in said and "1.40" in said for said in first.speaks_for)
    assert first.share_words == "likely"
    # A figure would look counted, and nobody has counted.
    assert not [cause for cause in told.causes if re.search(r"\d", cause.share_words)]
    assert told.tells_apart is not None
    # What a person says of it counts as the record does.
    answered = why(tile, "crazing", member, {"late": True, "porous": True, "thick": False})
    assert answered.causes[0].code == "moisture"


@pytest.mark.parametrize(("seen", "other"), OPPOSITES + tuple((b, a) for a, b in OPPOSITES))
def test_who_saw_the_one_is_not_asked_for_its_opposite(seen, other):
    empty = dict.fromkeys(("fault", "words", "tell_apart", "remedy", "trial", "source", "mark"), "")
    first = Cause(code="a", prior=1, evidence=((other, 2),), **empty)
    second = Cause(code="b", prior=1, evidence=((other, -2),), **empty)
    assert tells_apart(first, second, {}) == other
    assert tells_apart(first, second, {seen: False}) == other
    assert tells_apart(first, second, {seen: True}) == ""


def test_an_empty_record_says_so(member, client):
    tile = make.fired_tile(
        by=member, number="E1", layers=[{"glaze": make.glaze(low=None, high=None)}], outcome=CRAZED
    )
    client.force_login(member)
    told = why(tile, "crazing", member)
    priors = [cause.code for cause in of_fault(causes_in_force(), "crazing")]
    assert told.causes[0].code == priors[0]
    page = text_of(client.get("/t/E1/why/"))
    assert "What would tell the first two apart" in page
    assert "certain" not in page
    assert "Keep a crazed piece away from food" in page


def test_one_tap_plans_the_trial_and_its_result_is_learnt(client, member):
    client.force_login(member)
    tile = make.fired_tile(by=member, number="C1", body=make.body(), outcome=CRAZED)
    assert 'href="/t/C1/why/"' in client.get("/t/C1").content.decode()
    answer = client.post("/t/C1/why/trial", {"fault": "crazing", "cause": "moisture", "reserve": "on"})
    trial = RemedyTrial.objects.get()
    assert (trial.new_tile.body, trial.change) == (tile.body, "same glaze, the body fired one cone hotter")
    assert answer["Location"] == f"/t/{trial.new_tile.number}/same?as=C1"
    assert f"Made to try, against a fault of tile C1 : {trial.change}" in text_of(
        client.get(f"/t/{trial.new_tile.number}")
    )
    page = text_of(client.get(answer["Location"]))
    assert f"The one thing to change: {trial.change}." in page
    before = why(tile, "crazing", member)
    tried(by=member, trial=trial)
    client.post(
        f"/remedies/{trial.pk}/", {"change": trial.change, "new_tile": trial.new_tile.number, "helped": "yes"}
    )
    after = why(tile, "crazing", member)
    beside = [one.number for one in client.get(f"/remedies/{trial.pk}/").context["cards"]]
    assert beside == ["C1", trial.new_tile.number]

    def share(told):
        return next(cause for cause in told.causes if cause.code == "moisture").share

    assert share(after) > share(before)
    assert "Of one trial here 1 helped." in [cause.tried for cause in after.causes]
    trial.refresh_from_db()
    assert trial.said_at is not None
    assert [c.verb for c in Change.objects.filter(object_id=trial.pk).order_by("at")] == [
        "created",
        "changed",
    ]
    # Dropped, it counts no more.
    drop_remedy(by=member, obj=trial, reason="the wrong tile")
    assert share(why(tile, "crazing", member)) == pytest.approx(share(before))


def test_what_a_trial_refuses(member, people):
    tile = make.fired_tile(by=member, outcome=CRAZED)
    plan = {"by": member, "tile": tile, "fault": "crazing"}
    for wrong in ({"fault": "running", "cause": "too_thick"}, {"cause": "no_such"}):
        with pytest.raises(Refused):
            plan_remedy(**{**plan, **wrong})
    trial = plan_remedy(**plan, cause="too_thick", change="two coats")
    with pytest.raises(Refused, match="on which tile"):
        change_remedy(by=member, obj=trial, values={"helped": "yes"})
    with pytest.raises(Refused, match="another tile"):
        change_remedy(by=member, obj=trial, values={"new_tile": tile})
    private = make.tile(by=member, visibility="mine")
    with pytest.raises(Refused, match="Others see this trial"):
        change_remedy(by=member, obj=trial, values={"new_tile": private})
    bare = make.tile(by=member)
    with pytest.raises(Refused, match="Nobody has looked at"):
        change_remedy(by=member, obj=trial, values={"new_tile": bare, "helped": "yes"})
    assert change_remedy(by=member, obj=trial, values={"new_tile": bare, "helped": "unclear"}).helped
    with pytest.raises(Refused, match="Nobody has looked at"):
        change_remedy(by=member, obj=trial, values={"helped": "no"})
    with pytest.raises(NotAllowed):
        change_remedy(by=people["other"], obj=trial, values={"change": "three coats"})


def test_a_private_tile_is_nobody_elses_evidence(member, people):
    glaze = make.glaze()
    for _i in range(3):
        make.fired_tile(by=people["other"], layers=[{"glaze": glaze}], visibility="mine", outcome=CRAZED)
    tile = make.fired_tile(by=member, layers=[{"glaze": glaze}], outcome=CRAZED)
    shared = "Other tiles of this glaze show it too"
    assert shared not in str(why(tile, "crazing", member).causes)
    assert shared in str(why(tile, "crazing", people["technician"]).causes)
    hidden = make.fired_tile(by=people["other"], visibility="mine", outcome=CRAZED)
    trial = plan_remedy(by=people["other"], tile=hidden, fault="crazing", cause="moisture")
    assert not RemedyTrial.objects.visible_to(member).filter(pk=trial.pk).exists()


def test_a_longer_record_asks_no_more_queries(client, member):
    client.force_login(member)
    glaze = make.glaze()
    tile = make.fired_tile(
        by=member, number="Q1", layers=[{"fill": make.fill(glaze, sg="1.5")}], outcome=CRAZED
    )

    def more(n):
        for _i in range(n):
            make.fired_tile(layers=[{"glaze": glaze}], outcome=CRAZED)
            record_outcome(by=member, tile=tile, **CRAZED)
            plan_remedy(by=member, tile=tile, fault="crazing", cause="moisture", reserve=True)

    same_for_more(client, "/t/Q1/why/", more)


def test_what_is_tried_on_a_hidden_tile_teaches_nobody_else(member, people):
    """Neither where the tile with the fault is hidden, nor where the tile of the trial is hidden later."""
    other = people["other"]
    hidden = make.fired_tile(by=other, visibility="mine", outcome=CRAZED)
    trial = plan_remedy(by=other, tile=hidden, fault="crazing", cause="moisture", reserve=True)
    assert trial.new_tile.visibility == "mine"
    shown = make.fired_tile(by=other, outcome=CRAZED)
    later = plan_remedy(by=other, tile=shown, fault="crazing", cause="moisture", reserve=True)
    for one in (trial, later):
        tried(by=other, trial=one)
        change_remedy(by=other, obj=one, values={"helped": "yes"})

    def told(person):
        return RemedyTrial.objects.visible_to(person).told("crazing").get("moisture")

    assert told(other) == Tried(2, 0)
    assert told(member) == Tried(1, 0)
    change_tile(by=other, obj=later.new_tile, values={"visibility": "mine"})
    assert told(other) == Tried(2, 0)
    assert told(member) is None


def test_a_trial_is_counted_once_however_often_it_is_said(member, people):
    tile = make.fired_tile(by=member, outcome=CRAZED)
    trial = plan_remedy(by=member, tile=tile, fault="crazing", cause="moisture", reserve=True)
    tried(by=member, trial=trial)
    for said in ("yes", "yes", "no"):
        change_remedy(by=member, obj=trial, values={"helped": said})
    assert RemedyTrial.objects.visible_to(member).told("crazing") == {"moisture": Tried(0, 1)}
    again = plan_remedy(by=people["technician"], tile=tile, fault="crazing", cause="too_thick")
    with pytest.raises(Refused, match="Take a tile for each"):
        change_remedy(by=people["technician"], obj=again, values={"new_tile": trial.new_tile})


@pytest.mark.parametrize(
    ("fault", "code", "cause"),
    [("underfired", "settled", "settled_bucket"), ("spluttering", "loaded_damp", "damp")],
)
def test_yes_to_the_question_means_what_the_cause_says(table, fault, code, cause):
    """'Was the bucket stirred?' was once asked where yes meant that it was not."""
    assert not re.match(r"Was the bucket stirred|Was it damp", question(code))
    causes = of_fault(table, fault)
    assert share_of(rank(causes, {code: True}), cause) > share_of(rank(causes, {code: False}), cause)
