"""Idempotency-Key on every POST of the API: done once, answered alike, waited for, forgotten when it failed."""

import threading
from dataclasses import replace
from datetime import timedelta

import pytest
from django.apps import apps
from django.db import connection
from django.utils import timezone
from rest_framework.test import APIClient

from inventory.api.glazes import Glazes
from inventory.models import Glaze
from studio.models import Change, IdempotencyRecord
from tests import make
from tests.api_calls import WHO, ApiWorld, picture
from tests.api_table import CALLS

POSTS = [call for call in CALLS if call.method == "post"]
KEY = {"Idempotency-Key": "4b1c-the-phone-slept"}


def who_may(call):
    """Somebody whom the table lets do it."""
    return next(who for who in WHO if call.expected()[who] < 300)


def rows():
    """How many rows every table holds."""
    models = [m for app in ("studio", "inventory", "tiles") for m in apps.get_app_config(app).get_models()]
    return {model._meta.label: model.objects.count() for model in models}


@pytest.fixture
def world(db):
    return ApiWorld()


@pytest.mark.parametrize("call", POSTS, ids=[f"{i}-{call.name}" for i, call in enumerate(POSTS)])
def test_a_repeat_does_nothing_and_gets_the_first_answer(call, world):
    client = world.client(who_may(call))
    address, _body = call.kwargs(world), call.body(world)
    call = replace(call, kwargs=lambda w: address)  # a repeat goes where the first one went
    bad = call.send(client, world, {"no_such_field": 1}, **KEY)
    assert bad.status_code == 400, bad.content
    assert not IdempotencyRecord.objects.exists(), "a failed request left its key"

    first = call.send(client, world, **KEY)
    assert first.status_code == call.expected()[who_may(call)], first.content
    after = rows()
    again = call.send(client, world, **KEY)
    assert rows() == after
    assert again.status_code == first.status_code
    said = first.json() if first.content else None
    if call.shown_once:
        assert said[call.shown_once]
        said[call.shown_once] = None
    assert (again.json() if again.content else None) == said
    assert again.headers.get("ETag") == first.headers.get("ETag")
    assert again.headers["Idempotency-Replayed"] == "true"

    other = call.send(client, world, {**call.body(world), "remark": "not what was sent before"}, **KEY)
    assert other.status_code == 422
    assert rows() == after


def test_what_is_shown_once_is_not_kept(world):
    """A key or an invitation's address opens the studio: no copy of it may lie in the database."""
    client = world.client("manager")
    key = client.post("/api/v1/tokens/", {"name": "script"}, headers=KEY).json()["key"]
    address = client.post("/api/v1/invitations/", headers={"Idempotency-Key": "2"}).json()["address"]
    kept = str(list(IdempotencyRecord.objects.values()))
    assert "script" in kept
    assert key not in kept
    assert address.rstrip("/").rsplit("/", 1)[-1] not in kept


def test_a_key_belongs_to_a_person_and_an_address(world):
    body = {"number": "77"}
    assert world.client("member").post("/api/v1/tiles/", body, headers=KEY).status_code == 201
    theirs = world.client("technician").post("/api/v1/tiles/", {"number": "78"}, headers=KEY)
    assert theirs.status_code == 201
    elsewhere = world.client("member").post("/api/v1/tiles/reserve/", body, headers=KEY)
    assert elsewhere.status_code == 422


def test_the_order_of_members_makes_no_difference(world):
    client = world.client("member")
    body = {"number": "79", "form": "wedge"}
    first = client.post("/api/v1/tiles/", body, headers=KEY)
    again = client.post("/api/v1/tiles/", dict(reversed(body.items())), headers=KEY)
    assert (again.status_code, again.json()) == (201, first.json())


def test_another_photo_under_the_key_is_another_request(world):
    """The key covers the bytes of the file, and not only its name."""
    client, address = world.client("member"), f"/api/v1/tiles/{world.tile.pk}/photos/"
    send = lambda file: client.post(address, {"photo": file}, format="multipart", headers=KEY)  # noqa: E731
    assert send(picture()).status_code == 201
    assert send(picture()).headers["Idempotency-Replayed"] == "true"
    changed = picture()
    changed.seek(0, 2)
    changed.write(b"\xff")
    changed.seek(0)
    assert send(changed).status_code == 422


def test_a_reader_cannot_replay_a_write(world):
    """The stored answer is behind the same door as the work."""
    body = {"number": "80"}
    assert world.client("member").post("/api/v1/tiles/", body, headers=KEY).status_code == 201
    assert world.client("read_token").post("/api/v1/tiles/", body, headers=KEY).status_code == 403


@pytest.mark.django_db(transaction=True)
def test_two_at_once_make_one_record(monkeypatch):
    """The second arrives while the first is at work: it waits, and gets the first one's answer."""
    make.studio()
    manager = make.person("manager")
    inside, second_sends = threading.Event(), threading.Event()
    real = Glazes.make
    calls, answers = [], {}

    def slow(**fields):
        calls.append(1)
        inside.set()
        assert second_sends.wait(60)
        return real(**fields)

    monkeypatch.setattr(Glazes, "make", staticmethod(slow))

    # Logging in writes too: both do it before the first request holds SQLite's one write lock.
    browsers = {"first": APIClient(), "second": APIClient()}
    for browser in browsers.values():
        browser.force_login(manager)

    def send(name, before):
        client = browsers[name]
        before()
        answers[name] = client.post("/api/v1/glazes/", {"name": "Mill Race Blue"}, headers=KEY)
        connection.close()

    def wait_for_the_first():
        assert inside.wait(60)
        second_sends.set()

    clients = [
        threading.Thread(target=send, args=("first", lambda: None)),
        threading.Thread(target=send, args=("second", wait_for_the_first)),
    ]
    for thread in clients:
        thread.start()
    for thread in clients:
        thread.join(120)
    assert {name: answer.status_code for name, answer in answers.items()} == {"first": 201, "second": 201}
    assert answers["first"].json() == answers["second"].json()
    assert answers["second"].headers["Idempotency-Replayed"] == "true"
    assert len(calls) == Glaze.objects.count() == 1
    assert Change.objects.filter(kind="inventory.glaze").count() == 1


def test_an_old_answer_is_forgotten_when_the_next_key_is_kept(world):
    client = world.client("member")
    old = IdempotencyRecord.objects.create(
        person=world.other, key="old", method_and_path="POST /", digest="d",
        created_at=timezone.now() - timedelta(days=31),
    )  # fmt: skip
    young = IdempotencyRecord.objects.create(
        person=world.other, key="young", method_and_path="POST /", digest="d",
        created_at=timezone.now() - timedelta(days=29),
    )  # fmt: skip
    answer = client.post("/api/v1/tiles/reserve/", {"count": 1}, format="json", headers=KEY)
    assert answer.status_code == 201
    left = set(IdempotencyRecord.objects.values_list("pk", flat=True))
    assert old.pk not in left
    assert young.pk in left
    assert len(left) == 2
