"""A token: what it opens, for how long, and that it never opens more than its owner meant."""

from datetime import timedelta

import pytest
from django.utils import timezone
from rest_framework.test import APIClient

from studio.models import Token
from tests import make


@pytest.fixture
def issued(people):
    """A token of the technician, made by the API as a person makes it."""
    client = APIClient()
    client.force_login(people["technician"])

    def issue(**fields):
        made = client.post("/api/v1/tokens/", {"name": "script", **fields}).json()
        program = APIClient()
        program.credentials(HTTP_AUTHORIZATION=f"Bearer {made['key']}")
        return program, Token.objects.get(pk=made["id"])

    return issue


def test_a_reader_reads_and_no_more(issued):
    program, token = issued(scope="read")
    assert program.get("/api/v1/glazes/").status_code == 200
    assert program.post("/api/v1/glazes/", {"name": "A"}).status_code == 403
    writer, _token = issued(scope="write")
    assert writer.post("/api/v1/glazes/", {"name": "A"}).status_code == 201


def test_a_device_is_a_member_whoever_owns_it(issued):
    device, _token = issued(scope="write", kind="device")
    assert device.get("/api/v1/me/").json()["acting_role"] == "member"
    assert device.post("/api/v1/glazes/", {"name": "A"}).status_code == 403
    assert device.post("/api/v1/tiles/", {"number": "D1"}).status_code == 201
    assert device.patch("/api/v1/me/", {"name": "Tablet"}).status_code == 403
    assert device.get("/api/v1/tokens/").status_code == 403


def test_a_device_makes_no_token(issued):
    """Otherwise it could become its owner."""
    device, _token = issued(scope="write", kind="device")
    assert device.post("/api/v1/tokens/", {"name": "heir", "scope": "write"}).status_code == 403
    assert Token.objects.count() == 1


def test_it_ends(issued, people):
    program, token = issued(days=1)
    assert program.get("/api/v1/me/").status_code == 200
    Token.objects.filter(pk=token.pk).update(expires_at=timezone.now() - timedelta(seconds=1))
    assert program.get("/api/v1/me/").status_code == 401

    program, token = issued()
    owner = APIClient()
    owner.force_login(people["technician"])
    assert owner.post(f"/api/v1/tokens/{token.pk}/revoke/").json()["in_force"] is False
    assert program.get("/api/v1/me/").status_code == 401

    program, token = issued()
    people["technician"].is_active = False
    people["technician"].save()
    assert program.get("/api/v1/me/").status_code == 401


def test_a_role_that_is_taken_away_is_taken_from_the_token(issued, people):
    program, _token = issued(scope="write")
    people["technician"].role = "member"
    people["technician"].save()
    assert program.post("/api/v1/glazes/", {"name": "A"}).status_code == 403


@pytest.mark.parametrize(
    "header", ["Bearer", "Bearer a b", "Bearer tilekeep_x_y", "Bearer \xff", "bearer tilekeep_"]
)
def test_a_key_that_is_none_of_ours_is_401(db, header):
    client = APIClient()
    client.credentials(HTTP_AUTHORIZATION=header)
    assert client.get("/api/v1/me/").status_code == 401


def test_it_says_when_it_was_last_used(issued, people):
    program, token = issued()
    assert token.last_used_at is None
    before = timezone.now()
    program.get("/api/v1/glazes/")
    token.refresh_from_db()
    assert before <= token.last_used_at <= timezone.now()


def test_the_whole_key_is_shown_once_and_kept_nowhere(issued):
    program, token = issued()
    secret = program._credentials["HTTP_AUTHORIZATION"].rsplit("_", 1)[-1]
    assert secret not in str(Token.objects.filter(pk=token.pk).values())
    assert "key" not in program.get("/api/v1/me/").json()


def test_history_names_the_token(issued):
    """What a program did is told apart from what its owner did by hand."""
    program, _token = issued(scope="write")
    glaze = program.post("/api/v1/glazes/", {"name": "A"}).json()
    change = program.get("/api/v1/changes/", {"kind": "inventory.glaze", "object": glaze["id"]}).json()[
        "results"
    ][0]
    assert (change["via"], change["verb"]) == ("script", "created")


def test_members_read_the_history_of_what_they_see_and_nothing_else(people):
    mine = make.tile(by=people["other"], visibility="mine")
    shown = make.tile(by=people["other"])
    client = APIClient()
    client.force_login(people["member"])
    ask = lambda **query: client.get("/api/v1/changes/", query)  # noqa: E731
    assert ask(kind="tiles.tile", object=shown.pk).json()["results"][0]["verb"] == "created"
    assert ask(kind="tiles.tile", object=mine.pk).status_code == 404
    assert ask(kind="studio.token", object=shown.pk).status_code == 404
    assert ask(kind="tiles.tile").status_code == 403
    client.force_login(people["technician"])
    everything = {row["object_id"] for row in ask().json()["results"]}
    assert {str(mine.pk), str(shown.pk)} <= everything
