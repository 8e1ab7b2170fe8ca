"""Whatever goes wrong under /api/ is a problem document (RFC 9457), and names the field that is to blame."""

import pytest
from django.db import IntegrityError
from django.urls import reverse
from rest_framework.test import APIClient

from inventory.api.glazes import Glazes
from tests.api_calls import ApiWorld, served
from tests.api_table import CALLS


@pytest.fixture
def world(db):
    return ApiWorld()


def problem(response, code):
    """The document, after checking its shape: media type and members of RFC 9457, sections 3 and 3.1."""
    assert response.status_code == code, response.content
    assert response.headers["Content-Type"] == "application/problem+json"
    body = response.json()
    assert body["status"] == code
    assert body["type"] == "about:blank"
    assert body["title"]
    return body


def fields(body):
    return {row["field"]: row["sentence"] for row in body["errors"]}


# (list or call, what was typed, what was probably meant)
MISSPELT_FILTERS = [
    ("api-tiles-list", "surfase", "surface"),
    ("api-tiles-list", "cone_mim", "cone_min"),
    ("api-tiles-list", "pagesize", ""),
    ("api-buckets-list", "plaice", "place"),
    ("api-fills-list", "glase", "glaze"),
    ("api-flags-list", "opne", "open"),
    ("api-firings-list", "stat", "state"),
    ("api-changes-list", "knid", "kind"),
    ("api-people-list", "role", ""),
]


@pytest.mark.parametrize(("name", "typed", "meant"), MISSPELT_FILTERS)
def test_a_misspelt_filter_is_an_error_that_names_it(name, typed, meant, world):
    found = fields(problem(world.client("manager").get(reverse(name), {typed: "x"}), 400))
    assert set(found) == {typed}
    assert typed in found[typed]
    assert (f"Did you mean {meant}?" in found[typed]) if meant else ("Did you mean" not in found[typed])


@pytest.mark.parametrize("name", sorted({n for n, m in served() if n.endswith("-list") and m == "get"}))
def test_no_list_takes_an_unknown_filter(name, world):
    assert "colour_of_sky" in fields(
        problem(world.client("manager").get(reverse(name), {"colour_of_sky": "1"}), 400)
    )


@pytest.mark.parametrize(
    "call",
    [c for c in CALLS if c.method in ("post", "patch", "put")],
    ids=lambda call: str(call),
)
def test_no_call_takes_an_unknown_field(call, world):
    body = {**call.body(world), "no_such_field": 1}
    client = world.client(next(w for w, code in call.expected().items() if code < 300))
    found = fields(problem(call.send(client, world, body), 400))
    assert set(found) == {"no_such_field"}


BAD_FIELDS = [
    ("api-glazes-list", {"name": "A", "surfce": "satin"}, "surfce", "Did you mean surface?"),
    ("api-glazes-list", {"name": "A", "cone_low": 6, "cone_high": "6"}, "cone_low", "bare number"),
    ("api-glazes-list", {"name": "A", "sg_low": "153", "sg_high": "1.6"}, "sg_low", "Did you mean 1.53?"),
    ("api-glazes-list", {"name": "A", "cone_low": "6", "cone_high": "06"}, "", "06 is cooler than 6"),
    ("api-tiles-list", {"number": "1 2"}, "number", "no spaces"),
    ("api-tiles-list", {"number": "12", "layers": [{"coats": 2}]}, "layers.0.glaze", "Say which glaze"),
    ("api-tiles-list", {"number": "12", "layers": [{"coat": 2}]}, "layers.0.coat", "Did you mean coats?"),
    ("api-tiles-list", {"number": "12", "body": "6"}, "body", "UUID"),
    ("api-tiles-reserve", {"count": 0}, "count", "1"),
]


@pytest.mark.parametrize(("name", "body", "field", "words"), BAD_FIELDS)
def test_a_field_that_cannot_be_used_is_named(name, body, field, words, world):
    found = fields(problem(world.client("manager").post(reverse(name), body), 400))
    assert set(found) == {field}
    assert words in found[field]


def test_what_one_may_not_see_does_not_exist(world):
    """Naming a private tile says no more than naming none."""
    body = {"tile": str(world.private_tile.pk)}
    hidden = problem(world.client("member").post(f"/api/v1/firings/{world.firing.pk}/load/", body), 400)
    missing = {"tile": "00000000-0000-4000-8000-000000000000"}
    unknown = problem(world.client("member").post(f"/api/v1/firings/{world.firing.pk}/load/", missing), 400)
    assert fields(hidden)["tile"].replace(body["tile"], "") == fields(unknown)["tile"].replace(
        missing["tile"], ""
    )


def test_every_kind_of_failure_has_the_same_shape(world):
    member, manager = world.client("member"), world.client("manager")
    glaze = f"/api/v1/glazes/{world.glaze.pk}/"
    visitor = world.client("visitor").get(glaze)
    problem(visitor, 401)
    assert visitor.headers["WWW-Authenticate"].startswith("Bearer")
    assert "technician" in problem(member.post("/api/v1/glazes/", {"name": "A"}), 403)["detail"]
    problem(member.get("/api/v1/glazes/not-a-uuid/"), 404)
    problem(member.get("/api/v1/glazes/00000000-0000-4000-8000-000000000000/"), 404)
    problem(member.get("/api/v1/no-such-thing/"), 404)
    problem(world.client("visitor").get("/api/v2/"), 404)
    problem(manager.put(glaze, {}), 405)
    problem(manager.options(glaze), 405)
    problem(manager.get(glaze, headers={"Accept": "text/html"}), 406)
    problem(manager.post("/api/v1/glazes/", "name=A", content_type="application/x-www-form-urlencoded"), 415)
    problem(manager.post("/api/v1/glazes/", "{", content_type="application/json"), 400)
    problem(manager.post("/api/v1/glazes/", "[1]", content_type="application/json"), 400)
    problem(manager.patch(glaze, {"remark": "x"}), 428)
    problem(manager.patch(glaze, {"remark": "x"}, headers={"If-Match": '"abc"'}), 400)
    problem(manager.patch(glaze, {}, headers={"If-Match": '"1"'}), 400)
    problem(world.client("visitor").get("/api/v1/schema/"), 401)


@pytest.mark.parametrize("size", ["0", "201", "-1", "many", "٣"])
def test_a_page_size_that_cannot_be_served_is_refused(size, world):
    assert "page_size" in fields(
        problem(world.client("member").get("/api/v1/glazes/", {"page_size": size}), 400)
    )


@pytest.mark.parametrize("cursor", ["x", "cD1hYmM=", "WzAsICJhIiwgImIiXQ==", "W10=", "é"])
def test_a_cursor_that_is_not_ours_is_refused(cursor, world):
    assert "cursor" in fields(problem(world.client("member").get("/api/v1/glazes/", {"cursor": cursor}), 400))


def test_a_session_needs_its_csrf_token(world):
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(world.manager)
    problem(client.post("/api/v1/glazes/", {"name": "A"}), 403)
    client.force_login(world.manager)
    csrf = client.get("/account/").cookies["csrftoken"].value
    assert client.post("/api/v1/glazes/", {"name": "A"}, headers={"X-CSRFToken": csrf}).status_code == 201


def test_two_writers_at_one_moment_meet_a_sentence(world, monkeypatch):
    """What slips between a check and its insert is 409, not a broken page."""

    def collide(**fields):
        raise IntegrityError("UNIQUE constraint failed")

    monkeypatch.setattr(Glazes, "make", staticmethod(collide))
    for headers in ({}, {"Idempotency-Key": "1"}):
        problem(world.client("manager").post("/api/v1/glazes/", {"name": "A"}, headers=headers), 409)
