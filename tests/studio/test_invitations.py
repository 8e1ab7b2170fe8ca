"""One-time links: to join, or to set a new password."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from studio.actions import invitations
from studio.actions.people import change_person
from studio.errors import Refused
from studio.models import Change, Invitation, Person, Studio
from studio.roles import NotAllowed
from tests import make

GOOD = {
    "name": "Newt",
    "username": "newt",
    "password": "heron-on-the-weir",
    "again": "heron-on-the-weir",
}


@pytest.fixture
def link(manager):
    """(invitation, address) of a member's joining link."""
    invitation, secret = invitations.invite(by=manager, role="member", note="the new glazer")
    return invitation, reverse("studio:join", args=[secret])


def test_a_link_makes_an_account_with_its_role_and_the_studios_units_and_logs_in(client, manager):
    Studio.objects.update(temperature_unit="f", units="us")
    _invitation, secret = invitations.invite(by=manager, role="technician")
    response = client.post(reverse("studio:join", args=[secret]), {**GOOD, "role": "manager"}, follow=True)
    newt = Person.objects.get(username="newt")
    assert (newt.name, newt.role, newt.check_password(GOOD["password"])) == ("Newt", "technician", True)
    assert (newt.temperature_unit, newt.units) == ("f", "us")
    assert response.wsgi_request.user == newt
    assert Change.objects.filter(verb="joined", actor=newt, object_id=newt.pk).count() == 1


def test_the_secret_itself_is_kept_nowhere(link, manager, client):
    secret = link[1].split("/")[-2]
    client.post(link[1], GOOD)
    kept = [str(row) for model in (Invitation, Change, Person) for row in model.objects.values()]
    assert kept
    assert not [row for row in kept if secret in row]


def test_what_became_of_a_link_is_said(client, link, manager):
    invitation, address = link
    unknown = client.get(reverse("studio:join", args=["unheard-of"]))
    assert (unknown.status_code, "This link is not known" in unknown.content.decode()) == (404, True)
    for change, sentence in [
        ({"used_at": timezone.now()}, "has been used already"),
        ({"withdrawn_at": timezone.now()}, "was withdrawn"),
        ({"expires_at": timezone.now() - timedelta(seconds=1)}, "has run out"),
    ]:
        kept = {name: getattr(invitation, name) for name in change}
        Invitation.objects.filter(pk=invitation.pk).update(**change)
        for response in (client.get(address), client.post(address, GOOD)):
            assert (response.status_code, sentence in response.content.decode()) == (410, True)
        Invitation.objects.filter(pk=invitation.pk).update(**kept)
    assert not Person.objects.filter(username="newt").exists()
    assert client.get(address).status_code == 200


def test_of_two_browsers_with_one_link_only_one_joins(link):
    address = link[1]
    one, two = Client(), Client()
    assert one.get(address).status_code == two.get(address).status_code == 200
    assert one.post(address, GOOD).status_code == 302
    assert two.post(address, {**GOOD, "username": "second"}).status_code == 410
    assert not Person.objects.filter(username="second").exists()


def test_nor_do_both_join_when_both_have_passed_the_check(link, monkeypatch):
    invitation, address = link
    monkeypatch.setattr(invitations, "open_invitation", lambda secret: invitation)
    words = {k: v for k, v in GOOD.items() if k != "again"}
    invitations.accept_invitation(secret="x", **words)
    with pytest.raises(Refused, match="used already"):
        invitations.accept_invitation(secret="x", **{**words, "username": "second"})
    assert not Person.objects.filter(username="second").exists()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "   "}, "This field is required."),
        ({"name": "x" * 121}, "at most 120 characters"),
        ({"username": ""}, "This field is required."),
        ({"username": "x" * 61}, "at most 60 characters"),
        ({"username": "TAKEN"}, "This log-in name is taken. Choose another one."),
        ({"username": "new\0t"}, "Null characters are not allowed."),
        ({"password": ""}, "This field is required."),
        ({"again": ""}, "This field is required."),
        ({"again": "heron-on-the-bank"}, "The two are not the same. Type both once more."),
        ({"password": "heron", "again": "heron"}, "It must contain at least 10 characters."),
        ({"password": "qwertyuiop", "again": "qwertyuiop"}, "This password is too common."),
        (
            {"name": "Heron Weir", "password": "heron weir", "again": "heron weir"},
            "The password is too similar to the name.",
        ),
        (
            {"username": "heron-weir", "password": "heron-weir1", "again": "heron-weir1"},
            "The password is too similar to the log-in name.",
        ),
    ],
)
def test_bad_input_is_said_names_stay_and_passwords_are_never_echoed(client, link, typed, sentence):
    taken = make.person()
    taken.username = "taken"
    taken.save()
    sent = {**GOOD, **typed}
    response = client.post(link[1], sent)
    html = response.content.decode()
    assert response.status_code == 200
    assert sentence in html
    for name in ("name", "username"):
        if sent[name].strip() and sent[name].isprintable():
            assert f'value="{sent[name]}"' in html
    for name in ("password", "again"):
        assert not sent[name] or f'value="{sent[name]}"' not in html
    # Nothing happened: the link still works.
    assert client.post(link[1], GOOD).status_code == 302


def test_a_reset_link_changes_the_password_of_its_person_only(client, manager, member, other_session):
    _invitation, secret = invitations.offer_new_password(by=manager, person=member)
    address = reverse("studio:join", args=[secret])
    page = client.get(address).content.decode()
    assert member.username in page
    assert 'name="username"' not in page
    client.post(address, {"password": "heron-on-the-weir", "again": "heron-on-the-weir", "username": "x"})
    member.refresh_from_db()
    assert member.check_password("heron-on-the-weir")
    assert other_session.get("/more/").status_code == 302, "a new password ends the old log-ins"


@pytest.fixture
def other_session(member):
    client = Client()
    client.force_login(member)
    assert client.get("/account/").status_code == 200
    return client


def test_a_newer_reset_link_takes_the_place_of_the_older(client, manager, member):
    addresses = [
        reverse("studio:join", args=[invitations.offer_new_password(by=manager, person=member)[1]])
        for _ in range(2)
    ]
    assert [client.get(a).status_code for a in addresses] == [410, 200]


def test_a_closed_account_gets_no_new_password(client, manager, member):
    _invitation, secret = invitations.offer_new_password(by=manager, person=member)
    change_person(by=manager, person=member, values={"is_active": False})
    page = client.get(reverse("studio:join", args=[secret]))
    assert (page.status_code, "account is closed" in page.content.decode()) == (410, True)
    member.refresh_from_db()
    with pytest.raises(Refused, match="Open it again first"):
        invitations.offer_new_password(by=manager, person=member)


def test_a_manager_who_leaves_takes_their_open_links_along(client, manager):
    leaver = make.person("manager")
    _invitation, secret = invitations.invite(by=leaver, role="manager")
    change_person(by=manager, person=leaver, values={"role": "member"})
    assert client.get(reverse("studio:join", args=[secret])).status_code == 410


def test_a_used_link_cannot_be_withdrawn(client, link, manager):
    client.post(link[1], GOOD)
    client.force_login(manager)
    page = client.post(reverse("studio:invitation-withdraw", args=[link[0].pk]), follow=True).content.decode()
    link[0].refresh_from_db()
    assert "has been used already" in page
    assert link[0].withdrawn_at is None


def test_inviting_shows_the_address_once_with_its_code(client, manager, settings):
    settings.PUBLIC_URL = "https://tiles.example.org"
    client.force_login(manager)
    page = client.post("/people/invite/", {"note": "Newt", "role": "member", "days": 3})
    html = page.content.decode()
    start = html.index("https://tiles.example.org/join/")
    address = html[start : html.index("<", start)]
    assert "<svg" in html
    assert "style=" not in html
    assert "no-store" in page["Cache-Control"]
    assert Client().get(address.removeprefix("https://tiles.example.org")).status_code == 200
    listed = client.get("/people/").content.decode()
    assert "Newt" in listed
    assert address.rsplit("/", 2)[1] not in listed


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"role": "guest"}, "guest is not one of the available choices"),
        ({"role": ""}, "This field is required."),
        ({"days": "0"}, "An invitation can last from 1 to 90 days."),
        ({"days": "91"}, "An invitation can last from 1 to 90 days."),
        ({"days": "soon"}, "Enter a whole number."),
        ({"note": ""}, "This field is required."),
        ({"note": "x" * 121}, "at most 120 characters"),
    ],
)
def test_bad_input_of_an_invitation_is_said_and_kept(client, manager, typed, sentence):
    client.force_login(manager)
    sent = {"note": "Newt", "role": "member", "days": "14", **typed}
    html = client.post("/people/invite/", sent).content.decode()
    assert sentence in html
    assert not sent["note"] or f'value="{sent["note"]}"' in html
    assert f'value="{sent["days"]}"' in html
    assert not Invitation.objects.exists()


def test_only_a_manager_invites(technician):
    with pytest.raises(NotAllowed):
        invitations.invite(by=technician, role="member")
