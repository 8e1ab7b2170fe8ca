"""Offsets, advice, cooling and energy over the API: the same as the pages say, and misuse named by its field."""

from decimal import Decimal

import pytest

from studio.models import Studio
from tests import make
from tests.api_calls import ApiWorld
from tests.tiles.kiln_history import cooling, fired
from tiles import actions


@pytest.fixture
def world(db):
    return ApiWorld()


@pytest.fixture
def api(world):
    client = world.client("member")

    def get(address, code=200, **query):
        response = client.get(f"/api/v1/{address}", query)
        assert response.status_code == code, response.content
        return response.json()

    return get


def fields(problem):
    return {error["field"] for error in problem["errors"]}


def test_what_a_kiln_really_does(world, api):
    for _n in range(3):
        fired(world.kiln, {"top": 9, "middle": -6})
    found = api(f"kilns/{world.kiln.pk}/truth/")
    top, middle, bottom = found["shelves"]
    assert top["low_c"] <= 9 <= top["high_c"]
    assert middle["low_c"] <= -6 <= middle["high_c"]
    assert (bottom["median_c"], bottom["cones"], bottom["words"]) == (None, 0, "not known yet")
    assert (found["firings"], top["firings"]) == (3, 3)
    assert found["fastest_climb_c_per_h"] == pytest.approx(60, abs=1)
    advice = api(f"kilns/{world.kiln.pk}/programme/", cone="6")
    assert (advice["code"], advice["position"], advice["at"]["cone"]) == ("", "middle", "6")
    assert advice["shift_c"] == pytest.approx(-middle["median_c"], abs=0.01)
    assert api(f"kilns/{world.kiln.pk}/programme/", cone="8")["code"] == "kiln_limit"
    assert api(f"kilns/{world.kiln.pk}/programme/", cone="6", position="bottom")["code"] == "no_history"


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ({"cone": "15"}, "cone"),
        ({}, "cone"),
        ({"cone": "6", "position": "attic"}, "position"),
        ({"cone": "6", "firing": "x"}, "firing"),
        ({"cone": "6", "shelf": "top"}, "shelf"),
    ],
)
def test_what_cannot_be_answered_is_named(world, api, query, field):
    assert fields(api(f"kilns/{world.kiln.pk}/programme/", 400, **query)) == {field}


def test_a_firing_of_another_kiln_sets_no_limit(world, api):
    other = make.firing(make.kiln())
    assert fields(api(f"kilns/{world.kiln.pk}/programme/", 400, cone="6", firing=str(other.pk))) == {"firing"}


def test_cooling_says_when_and_always_what_it_is_not(world, api):
    found = api(f"firings/{cooling(world.kiln).pk}/cooling/")
    assert found["low_at"] < found["expected_at"] < found["high_at"]
    assert "not leave to open" in found["note"]
    planned = api(f"firings/{world.firing.pk}/cooling/")
    assert (planned["code"], planned["expected_at"]) == ("not_cooling", None)
    assert "not leave to open" in planned["note"]
    stale = api(f"firings/{cooling(world.kiln, late_s=9999).pk}/cooling/")
    assert (stale["code"], stale["expected_at"]) == ("stopped", None)
    assert api(f"firings/{cooling(world.kiln, begins=False).pk}/cooling/")["code"] == "no_clock"


def test_energy_with_its_cost_and_among_how_many(world, api):
    firing = make.firing(world.kiln)
    actions.load_piece(by=world.member, firing=firing, words="mugs", count=6)
    actions.load_tile(by=world.member, firing=firing, tile=world.tile)
    make.fire(firing)
    assert api(f"firings/{firing.pk}/energy/")["basis"] == ""
    Studio.objects.update(price_per_kwh=Decimal("0.5"), currency="EUR")
    sent = world.client("member").post(f"/api/v1/firings/{firing.pk}/meter/", {"kwh_read": "42.0"})
    found = api(f"firings/{firing.pk}/energy/")
    assert sent.json() == found
    assert (found["basis"], found["kwh"], found["cost"], found["things"]) == ("meter", 42, 21, 7)


def test_the_meter_says_nothing_of_what_is_not_fired(world):
    response = world.client("member").post(f"/api/v1/firings/{world.firing.pk}/meter/", {"kwh_read": "42.0"})
    assert response.status_code == 400
    assert fields(response.json()) == {"kwh_read"}
