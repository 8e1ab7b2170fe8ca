"""A look at the wrong tile is taken back with a reason: it counts for nothing, and stays to be read."""

import uuid

import pytest
from django.urls import reverse

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tiles.actions import change_remedy, plan_remedy, record_outcome, take_look_back
from tiles.calc.causes import Tried
from tiles.causes import faults_of, why
from tiles.evidence import evidence_for
from tiles.food import record_of_tile
from tiles.models import Outcome, RemedyTrial, Tile
from tiles.moved import most_moved
from tiles.questions import questions
from tiles.soundness import damage_of, soundness

WRONG = {
    "zone": "whole",
    "surface": "matte",
    "verdict": "not_again",
    "movement_mm": "30",
    "damage": "ran off",
}
RAN = {**WRONG, "faults": [{"kind": "running", "where": "foot"}, {"kind": "crazing", "where": ""}]}
WELL = {"zone": "whole", "surface": "glossy", "movement_mm": "1", "verdict": "again"}


def counted(glaze, tile, person, client):
    """Everything that looks are counted in."""
    about = [one for one in questions() if one.code in ("ran_off", "first_a_tile")]
    wall = ("with_fault=running", "surface=matte", "verdict=not_again", "movement=lot", "q=ran")
    rows = {asked: client.get(f"/api/v1/tiles/?{asked}").json() for asked in wall}
    assert all("results" in row for row in rows.values()), rows
    return {
        "wall": {asked: [one["number"] for one in row["results"]] for asked, row in rows.items()},
        "moved": most_moved([glaze.pk], make.cone("6")),
        "asked": {code: told.words for code, told in evidence_for(about, person).items()},
        "food": [line.code for line in record_of_tile(tile).lines],
        "why": why(tile, "running", person).causes,
        "sound": repr(soundness(tile.zones.get().combination, person)),
        "damage": len(damage_of(tile.zones.get().combination, person)),
        "faults": faults_of(tile),
        "state": Tile.objects.get(pk=tile.pk).state,
    }


def test_what_is_taken_back_counts_nowhere_and_is_read_still(client, member):
    client.force_login(member)
    glaze = make.glaze("Weir Runner")
    tile = make.fired_tile(by=member, number="L1", layers=[{"glaze": glaze}])
    other = make.fired_tile(by=member, number="L2", layers=[{"glaze": glaze}], outcome=WELL)
    before = counted(glaze, tile, member, client)
    look = record_outcome(by=member, tile=tile, **RAN)
    between = counted(glaze, tile, member, client)
    assert not [name for name in before if name != "why" and before[name] == between[name]]
    page = client.get("/t/L1").content.decode()
    assert f'href="/looks/{look.pk}/take-back"' in page
    assert Outcome.objects.filter(pk=look.pk).exists()
    answer = client.post(f"/looks/{look.pk}/take-back", {"reason": "that was tile L2"})
    assert answer["Location"] == "/t/L1"
    assert counted(glaze, tile, member, client) == before
    assert counted(glaze, other, member, client)["wall"] == before["wall"]
    told = text_of(client.get("/t/L1"))
    assert "One look was a mistake" in told
    assert "running (foot)" in told
    assert ": that was tile L2" in told
    assert client.get(f"/api/v1/tiles/{tile.pk}/").json()["outcomes"] == []
    change = Change.objects.get(verb="took back a look")
    assert (change.reason, change.before["faults"]) == ("that was tile L2", ["running", "crazing"])
    # Pressed twice, the second answer is the one that is read.
    twice = client.post(f"/looks/{look.pk}/take-back", {"reason": "that was tile L2"}, follow=True)
    assert "This look was taken back already." in text_of(twice)
    assert Change.objects.filter(verb="took back a look").count() == 1


@pytest.mark.parametrize("which", ["tile", "new_tile"])
def test_a_trial_whose_look_was_a_mistake_teaches_nothing(member, which):
    """Neither where nobody saw what came of it, nor against a fault that was never there."""
    tile = make.fired_tile(by=member, outcome=RAN)
    new = make.fired_tile(by=member, outcome=WELL)
    trial = plan_remedy(by=member, tile=tile, fault="running", cause="too_thick")
    trial = change_remedy(by=member, obj=trial, values={"new_tile": new, "helped": "yes"})
    assert RemedyTrial.objects.visible_to(member).told("running") == {"too_thick": Tried(1, 0)}
    take_look_back(by=member, outcome=getattr(trial, which).outcomes.get(), reason="another tile")
    assert RemedyTrial.objects.visible_to(member).told("running") == {}


def test_a_trial_against_a_fault_that_was_taken_back_leads_to_a_page_that_is_there(client, member):
    tile = make.fired_tile(by=member, outcome={**WELL, "faults": [{"kind": "crazing", "where": ""}]})
    look = record_outcome(by=member, tile=tile, **{**RAN, "faults": [{"kind": "running", "where": ""}]})
    trial = plan_remedy(by=member, tile=tile, fault="running", cause="too_thick")
    take_look_back(by=member, outcome=look, reason="another tile")
    client.force_login(member)
    sent = {"change": "thinner", "version": trial.version}
    kept = client.post(reverse("tiles:remedy", args=[trial.pk]), sent, follow=True)
    assert (kept.status_code, "It is noted." in text_of(kept)) == (200, True)


@pytest.mark.parametrize("fault", ["running", "no-such-fault"])
def test_an_old_link_to_the_causes_of_a_tile_without_faults_says_so(client, member, fault):
    make.fired_tile(by=member, number="L1", outcome=WELL)
    client.force_login(member)
    page = client.get(reverse("tiles:why", args=["L1"]), {"fault": fault})
    assert (page.status_code, "Nobody has noted a fault on this tile" in text_of(page)) == (200, True)


def test_who_may_take_a_look_back_and_only_once(member, people, client):
    tile = make.fired_tile(by=member, outcome=WELL)
    look = tile.outcomes.get()
    with pytest.raises(NotAllowed):
        take_look_back(by=people["other"], outcome=look, reason="mine")
    with pytest.raises(Refused, match="Say what was wrong"):
        take_look_back(by=member, outcome=look, reason=" ")
    offered = {}
    for who in (people["other"], member, people["technician"]):
        client.force_login(who)
        offered[who] = "This was a mistake" in client.get(tile.get_absolute_url()).content.decode()
    assert list(offered.values()) == [False, True, True]
    address = f"/api/v1/tiles/{tile.pk}/outcomes/{look.pk}/take-back/"
    back = client.post(address, {"reason": "misread"}, content_type="application/json")
    assert (back.status_code, back.json()["taken_back_why"]) == (200, "misread")
    assert Tile.objects.get(pk=tile.pk).state == "fired"
    with pytest.raises(Refused, match="taken back already"):
        take_look_back(by=people["technician"], outcome=look, reason="again")
    # Looked at anew, it is recorded again.
    record_outcome(by=member, tile=tile, **WELL)
    assert Tile.objects.get(pk=tile.pk).state == "recorded"


@pytest.mark.parametrize("fault", [{}, {"fault_crazing": "on"}])
def test_what_was_taken_back_is_not_said_to_be_kept_when_it_is_sent_again(member, client, fault):
    """A browser that goes back shows the form of the look, with its id."""
    client.force_login(member)
    tile, look = make.fired_tile(by=member, number="L1"), str(uuid.uuid4())
    firing = tile.tile_firings.get().firing
    address = reverse("tiles:unload-tile", args=[firing.number, "L1"])
    sent = {"zone": "whole:", "surface": "glossy", "look": look, **fault}
    assert "Tile L1 is kept." in text_of(client.post(address, sent, follow=True))
    take_look_back(by=member, outcome=tile.outcomes.get(), reason="another tile")
    again = text_of(client.post(address, sent, follow=True))
    assert ("is kept." in again, "was taken back: it counts for nothing" in again) == (False, True)
    assert not tile.outcomes.exists()
    # Looked at anew, on a page of its own or with something else to say, it is another look.
    client.post(address, {**sent, "surface": "matte"})
    assert tile.outcomes.get().surface == "matte"


def test_an_id_that_was_taken_back_is_refused_for_what_it_is(member, client):
    """It was 'somebody wrote the same thing at this moment', which no second try mends."""
    client.force_login(member)
    tile, look = make.fired_tile(by=member), str(uuid.uuid4())
    address, sent = f"/api/v1/tiles/{tile.pk}/outcomes/", {"id": look, "surface": "glossy"}
    json = {"content_type": "application/json"}
    assert client.post(address, sent, **json).status_code == 201
    client.post(f"{address}{look}/take-back/", {"reason": "another tile"}, **json)
    again = client.post(address, sent, **json)
    assert (again.status_code, "was taken back" in again.json()["detail"]) == (400, True)
