"""A leaver disappears by name from every page, table, API answer, history row and backup; what they made stays."""

import gzip
import json
import tarfile
from functools import cached_property

import pytest
from axes.models import AccessAttempt
from django.contrib.sessions.models import Session
from django.db import transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Glaze
from studio.actions.invitations import invite
from studio.actions.leaving import make_former
from studio.actions.people import change_person, set_preferences
from studio.actions.stations import set_pin
from studio.actions.tokens import issue_token, person_of_key
from studio.backups import write_backup
from studio.errors import Refused
from studio.models import Change, IdempotencyRecord, Person
from studio.roles import NotAllowed, Role
from tests import make
from tests.api_calls import ApiWorld
from tests.api_table import CALLS
from tests.test_page_roles import ROWS
from tiles import actions as wall
from tiles.actions.events import add_event
from tiles.models import Outcome, Tile

PAGES = [row for row in ROWS if row.method == "get"]
READS = [call for call in CALLS if call.method == "get"]


@pytest.fixture
def world(db):
    return ApiWorld()


def leave_traces(world, leaver):
    """Wherever a person's name can get to, and each record of the world beside it."""
    set_preferences(by=leaver, name=leaver.name + "e", temperature_unit="c", units="metric")
    change_person(by=world.manager, person=leaver, values={"role": Role.MANAGER, "name": leaver.name})
    leaver.refresh_from_db()
    invite(by=leaver, role=Role.MEMBER, note=leaver.name)
    change_person(by=world.manager, person=leaver, values={"role": Role.MEMBER})
    leaver.refresh_from_db()
    set_pin(by=leaver, pin="4071")
    key = issue_token(by=leaver, name=f"{leaver.name} sheet" if " " in leaver.name else leaver.name)[1]
    holder = person_of_key(key)[0]
    shelf.add_reading(by=holder, fill=world.fill, specific_gravity="1.46", remark=leaver.name)
    jar = shelf.create_bucket(by=leaver, owner=leaver)
    make.fill(world.glaze, bucket_=jar, by=leaver)
    shelf.raise_flag(by=leaver, fill=world.fill, kind="settled_hard", note=leaver.name)
    make.class_list(world.fill, by=leaver)
    wall.record_outcome(by=leaver, tile=world.fired_tile, surface="satin", remark=leaver.name)
    wrong = wall.record_outcome(by=leaver, tile=world.fired_tile, surface="matte")
    wall.take_look_back(by=leaver, outcome=wrong, reason=leaver.name)
    named = {"words": leaver.name, "body": make.body("Weir Earthenware", low="04", high="02")}
    hot = wall.load_piece(by=world.manager, firing=make.firing(), override_reason="on a plate", **named)
    wall.override_stop(by=world.manager, firing=hot.firing, piece=hot, reason="on two plates")
    wall.take_piece_out(by=world.manager, piece=hot)
    add_event(by=leaver, firing=world.hot, words=leaver.name)
    part = {"part": "elements", "changed_on": timezone.localdate(), "remark": leaver.name}
    wall.note_part_change(by=world.manager, kiln=world.kiln, **part)
    wall.reserve_numbers(by=leaver, count=1, device=leaver.name)
    wall.change_tile(by=world.member, obj=world.tile, values={"remark": leaver.name})
    AccessAttempt.objects.create(username=leaver.username, ip_address="10.0.0.9", failures_since_start=3)
    IdempotencyRecord.objects.create(
        person=world.member, key="k", method_and_path="POST /", digest="d",
        body={"by": {"id": str(leaver.pk), "name": leaver.name}},
    )  # fmt: skip
    # While the leaver can still make what is theirs.
    for name in dir(ApiWorld):
        if isinstance(getattr(ApiWorld, name), cached_property):
            getattr(world, name)


def everything_shown(world):
    """(address, text) of every page that a manager reads and of every GET of the API."""
    browser = Client()
    browser.force_login(world.manager)
    for row in PAGES:
        with transaction.atomic():  # some rows change a record for their own sake
            answer = browser.get(reverse(row.url, kwargs=row.kwargs(world)), row.data(world))
            if answer["Content-Type"].startswith(("text/", "application/json")):
                shown = b"".join(answer.streaming_content) if answer.streaming else answer.content
                yield f"{row.url} {answer.request['PATH_INFO']}", shown.decode()
            transaction.set_rollback(True)
    for call in READS:
        with transaction.atomic():
            answer = call.send(world.client("manager"), world)
            if not answer.streaming:
                yield f"{call} {answer.request['PATH_INFO']}", answer.content.decode()
            transaction.set_rollback(True)
    yield (
        "history",
        json.dumps(
            list(Change.objects.values("actor_name", "via", "object_text", "before", "after", "reason"))
        ),
    )
    yield "answers", json.dumps(list(IdempotencyRecord.objects.values_list("body", flat=True)))
    yield "attempts", " ".join(AccessAttempt.objects.values_list("username", flat=True))


def backup(path):
    write_backup(path)
    with gzip.open(path) as packed, tarfile.open(fileobj=packed) as tar:
        records = [tar.extractfile(name) for name in tar.getnames() if name.startswith("records/")]
        return b"".join(file.read() for file in records).decode()


@pytest.mark.parametrize("name", ["Wren Quillfeather", "Quillfeather"])
def test_the_name_is_nowhere_any_more(world, name, tmp_path):
    leaver = world.other
    leaver.name, leaver.username = name, "wquill"
    leaver.save()
    leave_traces(world, leaver)

    def found(shown):
        return {where for where, text in shown if "quill" in text.casefold()}

    before = found(everything_shown(world))
    assert len(before) > 15, before
    assert "quill" in backup(tmp_path / "before.tar.gz").casefold()
    counted = {model: model.objects.count() for model in (Tile, Outcome)}
    make_former(by=world.manager, person=leaver)
    after = list(everything_shown(world))
    assert found(after) == set()
    assert "quill" not in backup(tmp_path / "after.tar.gz").casefold()
    assert counted == {model: model.objects.count() for model in counted}
    assert world.others_tile.maker.pk == leaver.pk
    assert "former member 1" in dict(after)["history"]


def test_a_glaze_of_the_same_name_keeps_it(world):
    leaver = world.other
    leaver.name = "Rose"
    leaver.save()
    rose, blue = make.glaze("Rose", remark="Rose of the garden"), make.glaze("Weir Rose")
    tile = make.tile(by=leaver, layers=[{"glaze": rose}, {"glaze": blue}])
    look = wall.record_outcome(by=world.member, tile=make.fired_tile(), colour="rose")
    kept = list(Change.objects.filter(kind="inventory.glaze").values("object_text", "before", "after"))
    make_former(by=world.manager, person=leaver)
    assert set(Glaze.objects.filter(pk__in=[rose.pk, blue.pk]).values_list("name", flat=True)) == {
        "Rose",
        "Weir Rose",
    }
    assert Outcome.objects.get(pk=look.pk).colour == "rose"
    assert (
        list(Change.objects.filter(kind="inventory.glaze").values("object_text", "before", "after")) == kept
    )
    set_rows = Change.objects.filter(object_id=tile.pk, verb="set the layers")
    assert [layer["glaze"] for layer in set_rows.get().after["layers"]] == ["Rose", "Weir Rose"]
    assert set_rows.get().actor_name == "former member 1"


def test_every_way_in_is_shut(world):
    leaver = world.other
    browser = Client()
    browser.force_login(leaver)
    key = issue_token(by=leaver, name="sheet")[1]
    set_pin(by=leaver, pin="4071")
    sessions = Session.objects.count()
    former = make_former(by=world.manager, person=leaver)
    assert browser.get(reverse("studio:more")).status_code == 302
    assert Session.objects.count() == sessions - 1
    assert person_of_key(key) is None
    assert not Person.objects.get(pk=leaver.pk).has_usable_password()
    assert not hasattr(Person.objects.get(pk=leaver.pk), "pin")
    with pytest.raises(Refused, match="forgotten"):
        change_person(by=world.manager, person=former, values={"is_active": True})
    with pytest.raises(Refused, match="forgotten already"):
        make_former(by=world.manager, person=former)


def test_private_tiles_of_a_leaver_are_for_technicians_only(world):
    make_former(by=world.manager, person=Person.objects.get(pk=world.private_tile.maker_id))
    for who, sees in ((world.member, False), (world.technician, True), (world.manager, True)):
        assert Tile.objects.visible_to(who).filter(number="P1").exists() is sees


def test_who_may_and_who_must_stay(world):
    with pytest.raises(NotAllowed):
        make_former(by=world.technician, person=world.other)
    with pytest.raises(Refused, match="another manager"):
        make_former(by=world.manager, person=world.manager)
    second = make.person(Role.MANAGER)
    make_former(by=second, person=world.manager)
    third = make_former(by=second, person=world.other)
    assert (third.name, third.username) == ("former member 2", "former-2")


def test_the_page_says_what_stays_and_what_goes(world):
    browser = Client()
    browser.force_login(world.manager)
    page = reverse("studio:person-forget", args=[world.other.pk])
    assert page in browser.get(reverse("studio:person", args=[world.other.pk])).content.decode()
    said = browser.get(page).content.decode()
    assert "This cannot be undone." in said
    assert Person.objects.get(pk=world.other.pk).former_number is None
    answer = browser.post(page, follow=True)
    assert "former member 1" in answer.content.decode()
    assert "forgotten already" in browser.post(page).content.decode()
    assert page not in browser.get(reverse("studio:person", args=[world.other.pk])).content.decode()
    assert (
        page.replace(str(world.other.pk), str(world.manager.pk))
        not in browser.get(reverse("studio:person", args=[world.manager.pk])).content.decode()
    )
