"""Somebody's own account: name and units, password, tokens."""

import re

import pytest
from django.test import Client

from studio.actions.people import set_preferences
from studio.actions.tokens import issue_token, person_of_key, revoke_token
from studio.errors import Refused
from studio.models import Change, Token
from studio.roles import NotAllowed
from tests import make

KEPT = {"name": "Wren", "temperature_unit": "f", "units": "us"}


@pytest.fixture
def browser(member, client):
    client.force_login(member)
    return client


def test_name_and_units_are_kept_and_written_down(browser, member):
    page = browser.post("/account/", {**KEPT, "name": "  Wren "}, follow=True)
    member.refresh_from_db()
    assert {f: getattr(member, f) for f in KEPT} == KEPT
    assert ">Wren</a>" in page.content.decode()
    assert Change.objects.get().after == KEPT


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "   "}, "This field is required."),
        ({"name": "x" * 121}, "at most 120 characters"),
        ({"temperature_unit": "k"}, "k is not one of the available choices"),
        ({"units": ""}, "This field is required."),
    ],
)
def test_bad_input_is_said_kept_and_does_not_reach_the_frame(browser, member, typed, sentence):
    sent = {**KEPT, **typed}
    html = browser.post("/account/", sent).content.decode()
    assert sentence in html
    assert not sent["name"].strip() or f'value="{sent["name"]}"' in html
    assert f'href="/account/">{member.name}</a>' in html
    assert not Change.objects.exists()


def test_a_refused_name_leaves_the_person_of_the_request_as_it_was(member):
    name = member.name
    with pytest.raises(Refused):
        set_preferences(by=member, name="", temperature_unit="c", units="metric")
    assert member.name == name


NEW = {"old": make.PASSWORD, "new": "heron-on-the-weir", "again": "heron-on-the-weir"}


def test_a_new_password_keeps_this_browser_and_ends_the_others(browser, member):
    elsewhere = Client()
    elsewhere.force_login(member)
    browser.post("/account/password/", NEW)
    member.refresh_from_db()
    assert member.check_password(NEW["new"])
    assert browser.get("/account/").status_code == 200
    assert elsewhere.get("/account/").status_code == 302
    assert NEW["new"] not in str(Change.objects.values().get())


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"old": "not-this-one"}, "This is not your password as it is now."),
        ({"old": ""}, "This field is required."),
        ({"new": "", "again": ""}, "This field is required."),
        ({"again": "heron-on-the-bank"}, "The two are not the same."),
        ({"new": "heron", "again": "heron"}, "at least 10 characters"),
        ({"new": "qwertyuiop", "again": "qwertyuiop"}, "too common"),
        ({"new": "Member Wren", "again": "Member Wren"}, "too similar to the name"),
    ],
)
def test_a_password_that_cannot_be_used_is_said_and_never_echoed(browser, member, typed, sentence):
    member.name = "Member Wren"
    member.save()
    sent = {**NEW, **typed}
    html = browser.post("/account/password/", sent).content.decode()
    member.refresh_from_db()
    assert sentence in html
    assert 'type="password"' in html
    assert not re.search(r'type="password"[^>]*\svalue=', html)
    assert member.check_password(make.PASSWORD)


TOKEN = {"name": "spreadsheet", "scope": "write", "kind": "person", "days": "30"}


def test_a_token_is_shown_once_works_and_can_be_revoked(browser, member):
    page = browser.post("/account/tokens/", TOKEN)
    key = re.search(r"tilekeep_\w+", page.content.decode())[0]
    person, token = person_of_key(key)
    assert (person, token.scope) == (member, "write")
    assert "no-store" in page["Cache-Control"]
    listed = browser.get("/account/tokens/").content.decode()
    assert "spreadsheet" in listed
    assert key not in listed
    assert key not in str([*Token.objects.values(), *Change.objects.values()])
    browser.post(f"/account/tokens/{token.pk}/revoke/")
    assert person_of_key(key) is None
    assert "revoked" in browser.get("/account/tokens/").content.decode()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "x" * 81}, "at most 80 characters"),
        ({"scope": "all"}, "all is not one of the available choices"),
        ({"days": "0"}, "A token can last from 1 to 730 days."),
        ({"days": "731"}, "A token can last from 1 to 730 days."),
        ({"days": "1.5"}, "Enter a whole number."),
    ],
)
def test_bad_input_of_a_token_is_said_and_kept(browser, typed, sentence):
    sent = {**TOKEN, **typed}
    html = browser.post("/account/tokens/", sent).content.decode()
    assert sentence in html
    assert not sent["name"] or f'value="{sent["name"]}"' in html
    assert f'value="{sent["days"]}"' in html
    assert not Token.objects.exists()


def test_device_tokens_are_for_technicians(browser, technician):
    assert 'value="device"' not in browser.get("/account/tokens/").content.decode()
    browser.post("/account/tokens/", {**TOKEN, "kind": "device"})
    assert Token.objects.get().kind == "person", "a question that was not asked has no answer"
    browser.force_login(technician)
    browser.post("/account/tokens/", {**TOKEN, "kind": "device"})
    assert Token.objects.filter(owner=technician, kind="device").count() == 1


def test_a_device_makes_and_revokes_no_tokens_for_its_owner(technician):
    token, key = issue_token(by=technician, name="tablet", kind="device", scope="write")
    device, _token = person_of_key(key)
    with pytest.raises(NotAllowed):
        issue_token(by=device, name="better key", scope="write")
    with pytest.raises(NotAllowed):
        revoke_token(by=device, token=token)


@pytest.mark.parametrize(
    "key", ["", "tilekeep", "tilekeep_x_y", "other_{lookup}_{secret}", "tilekeep_{lookup}_0"]
)
def test_a_key_that_is_not_exact_opens_nothing(member, key):
    _token, real = issue_token(by=member, name="sheet")
    _prefix, lookup, secret = real.split("_")
    assert person_of_key(key.format(lookup=lookup, secret=secret)) is None
    assert person_of_key(real) is not None
