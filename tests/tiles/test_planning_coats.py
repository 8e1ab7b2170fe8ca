"""The studio's own records behind the findings: movement, stirring, what is in a glaze; and the answers to them."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import GlazeSubstance
from tests import make
from tests.tiles.counting import queries
from tiles import actions as wall
from tiles.moved import most_moved
from tiles.planning import findings_for


def codes(tile, **asked):
    return [found.code for found in findings_for(tile, **asked)]


def moved(glaze, mm, *, target="6", layers=None, zone="whole", **fields):
    """A tile of the glaze alone that was measured after its firing."""
    tile = make.tile(layers=layers or [{"glaze": glaze}], **fields)
    make.fire(make.firing(target=target), tile)
    wall.record_outcome(by=tile.maker, tile=tile, zone=zone, movement_mm=Decimal(mm))
    return tile


@pytest.fixture
def glaze(studio):
    return make.glaze("Weir Runner", low=None, high=None)


def test_movement_is_the_most_that_was_measured_on_the_glaze_alone_and_no_hotter(glaze):
    moved(glaze, "6.5")
    moved(glaze, "2")
    moved(glaze, "30", target="8")
    moved(glaze, "40", visibility="mine")
    moved(glaze, "50", layers=[{"glaze": glaze}, {"glaze": make.glaze()}])
    assert most_moved([glaze.pk], make.cone("6")) == {glaze.pk: Decimal("6.5")}
    assert most_moved([glaze.pk], make.cone("8")) == {glaze.pk: Decimal("30.0")}
    assert most_moved([glaze.pk], make.cone("4")) == {}
    tile = make.tile(layers=[{"glaze": glaze}])
    [found] = findings_for(tile, firing=make.firing(target="6"))
    assert found.code == "runny_near_foot"
    assert "6.5 mm" in found.sentence
    assert "catcher or stilts" in found.sentence
    assert codes(tile, firing=make.firing(target="4")) == []


def test_without_a_measure_what_is_expected_of_the_glaze_counts(studio):
    glaze = make.glaze("Runs", expected_movement_mm=Decimal(9))
    tile = make.tile(layers=[{"glaze": glaze}])
    [found] = findings_for(tile)
    assert "is noted to move about 9 mm" in found.sentence
    moved(glaze, "1")  # and what was measured overrules it
    assert codes(tile) == []


def test_a_bucket_that_rested_for_weeks_is_to_be_stirred(member):
    fill = make.fill(days_ago=60)
    tile = make.tile(by=member, layers=[{"fill": fill}])
    assert codes(tile) == []  # nobody ever noted a stirring: not known is not wrong
    shelf.treat(by=member, fill=fill, kind="stirred", at=timezone.now() - timedelta(days=20))
    later = make.tile(by=member, layers=[{"fill": fill}])
    assert codes(later) == ["not_stirred"]
    shelf.add_reading(by=member, fill=fill, specific_gravity="1.5")  # is taken after stirring
    assert codes(make.tile(by=member, layers=[{"fill": fill}])) == []
    assert codes(later) == ["not_stirred"]  # that day it was so


def test_what_is_read_of_a_glaze_warns_whoever_sprays_it(member, glaze):
    tile = make.tile(by=member, layers=[{"glaze": glaze, "method": "spray"}])
    assert codes(tile) == ["spray_mist"]
    GlazeSubstance.objects.create(glaze=glaze, substance="Zn", by=member, read_in="maker")
    assert codes(tile) == ["spray_mist"]  # a lower hazard
    for _twice in range(2):
        GlazeSubstance.objects.create(glaze=glaze, substance="Co", by=member, read_in="maker")
    [found] = findings_for(tile)
    assert (found.code, found.level) == ("hazard_in_spray", "warn")
    assert "holds cobalt. Its mist" in found.sentence


def test_the_page_asks_once_more_keeps_the_answer_and_the_api_takes_one_too(client, member, glaze):
    tile, other = make.tile("7", by=member), make.glaze("Mill Red", kind="underglaze")
    client.force_login(member)
    sent = {"glaze": glaze.pk, "method": "dip", "coats": 1, "area": "upper", "ground": "bisque"}
    sent |= {"ground_state": "oily", "is_even": "false", "stirred_in": other.pk, "version": tile.version}
    page = client.post("/t/7/log", sent)
    assert page.status_code == 200
    assert not tile.layers.exists()
    seen = [finding.key for finding in page.context["findings"] if finding.is_open]
    assert [f.code for f in page.context["findings"]] == ["ground_oily", "stirred_in", "uneven_coats"]
    assert client.post("/t/7/log", {**sent, "seen": seen, "answer": "to see it crawl"}).status_code == 302
    layer = tile.layers.get()
    assert (layer.ground_state, layer.is_even, layer.stirred_in) == ("oily", False, other)
    assert {a.code for a in tile.acknowledgements.all()} == {"ground_oily", "stirred_in", "uneven_coats"}

    shown = client.get(f"/api/v1/tiles/{tile.pk}/").json()["layers"][0]
    assert (shown["ground_state"], shown["is_even"], shown["stirred_in"]["name"]) == (
        "oily",
        False,
        "Mill Red",
    )
    correct = f"/t/7/layers/{layer.pk}"
    assert 'value="oily" ' in client.get(correct).content.decode()
    dusty = make.tile("8", by=member, layers=[{"glaze": glaze, "area": "upper", "ground_state": "dusty"}])
    [found] = client.get(f"/api/v1/tiles/{dusty.pk}/findings/").json()["findings"]
    answer = {"key": found["key"], "reason": "blown off since"}
    answered = client.post(f"/api/v1/tiles/{dusty.pk}/answers/", answer, content_type="application/json")
    assert answered.status_code == 201
    assert dusty.acknowledgements.get().code == "ground_dusty"


def test_more_layers_ask_no_more_queries(client, member):
    def log_page(number, count):
        layers = [{"fill": make.fill(), "stirred_in": make.glaze(), "area": "upper"} for _i in range(count)]
        make.tile(number, by=member, layers=layers)
        return queries(client, f"/t/{number}/log")

    client.force_login(member)
    log_page("warm", 1)
    assert log_page("few", 2) == log_page("many", 8)


def test_a_planned_pot_is_checked_like_a_tile_on_page_and_api(client, member, glaze):
    moved(glaze, "8", target="4")
    body, kiln = make.body(high="5"), make.kiln(highest="5")
    asked = {"layers": [{"glaze": str(glaze.pk)}], "cone": "6", "body": str(body.pk), "kiln": str(kiln.pk)}
    client.force_login(member)
    found = client.post("/api/v1/pots/findings/", asked, content_type="application/json").json()["findings"]
    codes_ = [one["code"] for one in found]
    assert codes_ == ["body_outside_cone", "kiln_too_cool", "runny_near_foot"]
    query = {"layer": f"glaze-{glaze.pk}", "area": "whole", "cone": "6", "body": body.pk, "kiln": kiln.pk}
    page = client.get("/pot/", query).content.decode()
    assert all(one["sentence"].replace("'", "&#x27;") in page for one in found)
