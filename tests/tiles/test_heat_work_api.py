"""`POST /api/v1/calc/heat-work/`: what a log amounts to, and a sentence under the field of what cannot be reckoned."""

import pytest
from rest_framework.test import APIClient

from studio.actions.tokens import issue_token
from tiles.api import calc

ADDRESS = "/api/v1/calc/heat-work/"
OUT = {
    "cone", "cone_fraction", "cone_low", "cone_high", "cones", "last_100c_rate_c_per_h", "peak_c", "findings",
}  # fmt: skip
# 60 °C/h to the maker's 1222 °C for cone 6 at that rate, and down at 200 °C/h.
TO_SIX = [[0, 20], [1202, 1222], [1562, 22]]


@pytest.fixture
def api(member):
    client = APIClient()
    client.force_login(member)
    return client


def reckon(api, **said):
    answer = api.post(ADDRESS, said, format="json")
    assert answer.status_code == 200, answer.json()
    assert set(answer.json()) == OUT
    return answer.json()


def test_a_firing_to_cone_6(api):
    found = reckon(api, samples=TO_SIX)
    assert (found["cone"], found["cone_low"]) == ("6", "6")
    assert 0 < found["cone_fraction"] < 1
    assert found["peak_c"] == 1222
    assert found["last_100c_rate_c_per_h"] == pytest.approx(60)
    cones = {row["cone"]: row["dose"] for row in found["cones"]}
    assert list(cones)[0] == "022"
    assert {"05.5", "5.5"} < set(cones)
    assert cones["6"] > 1 > cones["7"]


def test_what_is_to_be_said_beside_it_is_said(api):
    """No cone, and a number nowhere that would look like one."""
    found = reckon(api, samples=[[0, 20], [60, 480]])
    assert (found["cone"], found["cone_fraction"], found["cone_low"], found["cone_high"]) == (None,) * 4
    (finding,) = found["findings"]
    assert (finding["code"], finding["level"], finding["field"]) == ("below_first_red", "warn", "samples")
    assert "480\xa0°C" in finding["sentence"]
    assert finding["source"]


def test_where_the_instrument_said_nothing_is_null(api):
    holes = [[0, 20], [1201, None], *TO_SIX[1:]]
    assert reckon(api, samples=holes) == reckon(api, samples=TO_SIX)


def test_each_type_has_its_own_cones(api):
    large = [row["cone"] for row in reckon(api, samples=TO_SIX, cone_type="large")["cones"]]
    assert (large[0], large[-1]) == ("019", "12")


@pytest.mark.parametrize(
    ("said", "field", "sentence"),
    [
        ({}, "samples", "required"),
        ({"samples": "hot"}, "samples", "Give a list of pairs"),
        ({"samples": {}}, "samples", "Give a list of pairs"),
        ({"samples": []}, "samples", "no reading of a temperature"),
        ({"samples": [[0, None]]}, "samples", "no reading of a temperature"),
        ({"samples": [[0, 20], [1]]}, "samples", "Sample 2 is no pair"),
        ({"samples": [[0, 20], 5]}, "samples", "Sample 2 is no pair"),
        ({"samples": [["0", "20"]]}, "samples", "Sample 1 is no pair"),
        ({"samples": [[True, 20]]}, "samples", "Sample 1 is no pair"),
        ({"samples": [[None, 20]]}, "samples", "Sample 1 is no pair"),
        ({"samples": [[10**400, 20]]}, "samples", "Sample 1 is no pair"),
        ({"samples": [[0, 20], [5, 1e9]]}, "samples", "1000000000.0 °C in reading 2"),
        ({"samples": [[0, 20], [5, 30], [4, 40]]}, "samples", "Reading 3 is earlier"),
        ({"samples": [[0, 1000], [1e300, 1000]]}, "samples", "more than 100 days"),
        ({"samples": TO_SIX, "cone_type": "tiny"}, "cone_type", "not a valid choice"),
        ({"samples": TO_SIX, "cone_typ": "large"}, "cone_typ", "Did you mean cone_type?"),
    ],
)
def test_what_cannot_be_reckoned_is_named(api, said, field, sentence):
    answer = api.post(ADDRESS, said, format="json")
    assert answer.status_code == 400
    assert [row["field"] for row in answer.json()["errors"]] == [field]
    assert sentence in answer.json()["errors"][0]["sentence"]


def test_a_time_past_all_numbers_is_refused(api):
    answer = api.post(ADDRESS, '{"samples": [[0, 20], [1e999, 30]]}', content_type="application/json")
    assert answer.status_code == 400
    assert "Reading 2 has no time" in answer.json()["errors"][0]["sentence"]


def test_too_many_samples_are_refused_with_their_number(api, monkeypatch):
    monkeypatch.setattr(calc, "MOST_SAMPLES", 2)
    answer = api.post(ADDRESS, {"samples": TO_SIX}, format="json")
    assert answer.status_code == 400
    assert "3 samples; at most 2 are read" in answer.json()["errors"][0]["sentence"]


def test_a_body_too_large_to_read_is_not_read(api, settings):
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 100
    answer = api.post(ADDRESS, {"samples": TO_SIX * 10}, format="json")
    assert answer.status_code == 413
    assert "Send fewer values" in answer.json()["detail"]


def test_a_token_that_may_only_read_may_reckon_and_a_visitor_may_not(member):
    _token, key = issue_token(by=member, name="kiln room", scope="read")
    api = APIClient(headers={"Authorization": f"Bearer {key}"})
    assert reckon(api, samples=TO_SIX)["cone"] == "6"
    assert APIClient().post(ADDRESS, {"samples": TO_SIX}, format="json").status_code == 401
