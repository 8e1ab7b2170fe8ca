"""The log over the API: the kiln's instrument sends, a program sends a file, both may send once more."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from tests.api_calls import ApiWorld
from tests.reading import text_of
from tests.tiles.log_files import PLAIN, comma, moment, readings, table
from tests.tiles.test_log_file import TWICE
from tiles.models import FiringLog


@pytest.fixture
def world(db):
    return ApiWorld()


def address(name, firing):
    return reverse(f"api-firings-{name}", args=[firing.pk])


def put(client, firing, text, **told):
    body = {"file": SimpleUploadedFile("kiln.csv", text.encode()), **told}
    return client.put(address("log", firing), body, format="multipart")


def test_an_instrument_sends_and_may_send_again(world):
    device = world.client("device_token")
    rows = [{"elapsed_s": s, "celsius": c} for s, c in readings(600)]
    for key in ("a", "a", "b", ""):
        headers = {"Idempotency-Key": key} if key else {}
        body = device.post(
            address("readings", world.hot), {"readings": rows}, format="json", headers=headers
        ).json()
        assert body["added"] == (600 if key == "a" else 0), key
        assert (body["count"], body["cone"]) == (600, "6")
    assert body["cone_words"].startswith("cone 6")


def test_a_bad_row_is_named(world):
    rows = [{"elapsed_s": 0, "celsius": 20}, {"elapsed_s": 5, "celsius": 1e9}]
    answer = world.client("device_token").post(
        address("readings", world.hot), {"readings": rows}, format="json"
    )
    assert answer.status_code == 400
    assert [error["field"] for error in answer.json()["errors"]] == ["readings.1"]


@pytest.mark.parametrize("name", ["elapsed_s", "celsius"])
def test_true_is_no_number(world, name):
    rows = [{"elapsed_s": 0, "celsius": 20, name: True}]
    answer = world.client("device_token").post(
        address("readings", world.hot), {"readings": rows}, format="json"
    )
    assert answer.status_code == 400
    assert name in answer.json()["errors"][0]["field"]


def test_what_is_no_batch_is_not_read(world):
    heavy = '{"readings": [' + " " * 1_000_001 + "]}"
    client = world.client("member")
    answer = client.generic("POST", address("readings", world.hot), heavy, content_type="application/json")
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (400, "readings")


def test_a_file_is_kept_once_and_told_otherwise(world):
    client = world.client("member")
    first = put(client, world.fired, PLAIN)
    assert (first.status_code, first.json()["peak_c"], first.json()["cone"]) == (200, 1222, "6")
    assert first["ETag"] == f'"{first.json()["version"]}"'
    again = put(client, world.fired, PLAIN)
    assert (again.status_code, again.json()) == (200, first.json())
    other = put(client, world.fired, PLAIN, unit="f")
    assert other.status_code == 400
    assert "has a log already" in other.json()["detail"]
    assert FiringLog.objects.count() == 1


def test_a_time_that_starts_anew_asks_over_the_api_too(world):
    client = world.client("member")
    assert put(client, world.fired, TWICE).json()["errors"][0]["field"] == "resets"
    kept = put(client, world.fired, TWICE, resets="longest").json()
    assert (kept["count"], [mark["code"] for mark in kept["marks"]]) == (500, ["reset"])
    assert "the longest was taken" in kept["marks"][0]["sentence"]


def test_fewer_points_keep_the_peak(world):
    put(world.client("member"), world.fired, PLAIN)
    body = world.client("read_token").get(address("readings", world.fired), {"points": 20}).json()
    assert (body["count"], len(body["readings"]) <= 20) == (700, True)
    assert max(celsius for _second, celsius in body["readings"]) == 1222
    assert world.client("member").get(address("readings", world.fired), {"points": 3}).status_code == 400


def test_a_firing_without_a_log_says_so(world):
    assert world.client("member").get(address("log", world.fired)).status_code == 404


def test_the_log_says_how_far_its_cone_is_to_be_trusted_as_the_page_does(world):
    """Stopped at its hottest: what came after is not counted."""
    put(world.client("member"), world.fired, "\n".join(f"{s},{c}" for s, c in readings(555)))
    found = world.client("read_token").get(address("log", world.fired)).json()["findings"]
    assert "ends_at_peak" in [one["code"] for one in found]
    page = text_of(world.client("member").get(world.fired.get_absolute_url()))
    plain = [" ".join(one["sentence"].split()) for one in found]
    assert all(sentence in " ".join(page.split()) for sentence in plain), page


def test_what_a_sent_file_is_not_told_is_guessed(world):
    """A form leaves out yes and no alike: days first and decimal commas are what the file shows."""
    client, firing = world.client("member"), world.hot
    text = table(lambda s, c: f"{moment(s + 10 * 86400):%d/%m/%Y %H:%M};{comma(c)}", head="time;C\n")
    kept = put(client, firing, text)
    assert kept.status_code == 200, kept.json()
    assert (kept.json()["begins_at"][:10], kept.json()["peak_c"]) == ("2026-03-14", 1222.0)
    told = put(client, firing, text, days_first="false")
    assert told.status_code == 400
