"""The list of people, and what a manager changes there."""

import pytest
from django.test import Client

from studio.actions.people import change_person
from studio.actions.tokens import issue_token, person_of_key
from studio.errors import Refused
from studio.models import Change
from tests import make


def address(person):
    return f"/people/{person.pk}/"


KEEP = {"name": "Wren", "role": "member", "is_active": "on", "reason": ""}


def test_members_see_names_and_roles_and_nothing_of_the_managers_part(client, people):
    closed = make.person(name="Gone Away", is_active=False)
    client.force_login(people["member"])
    html = client.get("/people/").content.decode()
    assert people["technician"].name in html
    assert closed.name not in html
    assert people["technician"].username not in html
    assert "Invite somebody" not in html
    client.force_login(people["manager"])
    html = client.get("/people/").content.decode()
    assert closed.name in html
    assert people["technician"].username in html
    assert "Invite somebody" in html


def test_a_change_of_role_is_stored_with_its_reason(client, manager, member):
    client.force_login(manager)
    client.post(
        address(member), {**KEEP, "name": member.name, "role": "technician", "reason": "knows the kiln"}
    )
    member.refresh_from_db()
    change = Change.objects.get(object_id=member.pk)
    assert member.role == "technician"
    assert (change.before, change.after) == ({"role": "member"}, {"role": "technician"})
    assert (change.reason, change.actor) == ("knows the kiln", manager)


@pytest.mark.parametrize("values", [{"role": "member"}, {"role": "technician"}, {"is_active": ""}])
def test_the_last_manager_cannot_be_taken_away(client, manager, values):
    client.force_login(manager)
    html = client.post(
        address(manager), {"name": manager.name, "role": "manager", "is_active": "on", **values}
    ).content.decode()
    manager.refresh_from_db()
    assert "left without a manager" in html
    assert (manager.role, manager.is_active) == ("manager", True)
    assert not Change.objects.exists()


def test_with_a_second_manager_the_first_may_go_but_not_both(manager):
    second = make.person("manager")
    change_person(by=manager, person=manager, values={"role": "member"})
    with pytest.raises(Refused, match="without a manager"):
        change_person(by=second, person=second, values={"is_active": False})
    closed = make.person("manager", is_active=False)
    with pytest.raises(Refused, match="without a manager"):
        change_person(by=second, person=second, values={"role": "member"})
    assert closed.role == "manager", "a closed account manages nothing"


def test_closing_an_account_ends_its_sessions_and_tokens_and_opening_gives_them_back(manager, member):
    browser = Client()
    browser.force_login(member)
    _token, key = issue_token(by=member, name="sheet")
    change_person(by=manager, person=member, values={"is_active": False})
    assert browser.get("/more/").status_code == 302
    assert person_of_key(key) is None
    change_person(by=manager, person=member, values={"is_active": True})
    assert person_of_key(key) is not None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "x" * 121}, "at most 120 characters"),
        ({"role": "guest"}, "guest is not one of the available choices"),
        ({"role": ""}, "This field is required."),
        ({"reason": "x" * 201}, "at most 200 characters"),
    ],
)
def test_bad_input_is_said_and_kept(client, manager, member, typed, sentence):
    client.force_login(manager)
    sent = {**KEEP, **typed}
    html = client.post(address(member), sent).content.decode()
    assert sentence in html
    for name in ("name", "reason"):
        assert not sent[name] or f'value="{sent[name]}"' in html
    assert not Change.objects.exists()


def test_a_page_that_stood_open_does_not_open_a_closed_account_again(client, manager, member):
    client.force_login(manager)
    seen = client.get(address(member)).context["form"]["seen"].value()
    change_person(by=manager, person=member, values={"is_active": False})
    typed = {**KEEP, "name": "Wren Alder", "seen": seen}
    assert client.post(address(member), typed).status_code == 302
    member.refresh_from_db()
    assert (member.name, member.is_active) == ("Wren Alder", False)


def test_what_does_not_differ_leaves_no_trace(client, manager, member):
    client.force_login(manager)
    assert client.post(address(member), {**KEEP, "name": member.name}).status_code == 302
    assert not Change.objects.exists()


def test_a_managers_new_password_link_is_shown_and_written_down_without_its_secret(client, manager, member):
    client.force_login(manager)
    html = client.post(f"{address(member)}new-password/").content.decode()
    start = html.index("/join/")
    assert Client().get(html[start : html.index("<", start)]).status_code == 200
    assert Change.objects.get(object_id=member.pk).verb == "offered a new password"
