"""Getting in: what the form says, where it leads, and the lock after five failures."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.test import Client, RequestFactory
from django.urls import reverse
from django.utils import timezone

from studio.actions.invitations import offer_new_password
from studio.attempts import address_of
from tests import make

LOGIN = "/login/"


@pytest.fixture
def wren(studio):
    return make.person("member", name="Wren")


def attempt(client, username, password=make.PASSWORD, **extra):
    return client.post(LOGIN, {"username": username, "password": password}, **extra)


def logged_in(client):
    return "_auth_user_id" in client.session


def test_the_log_in_name_is_trimmed_and_found_in_any_case(client, wren):
    response = attempt(client, f"  {wren.username.upper()} ")
    assert response["Location"] == reverse("studio:home")
    assert logged_in(client)


@pytest.mark.parametrize(
    ("username", "password", "sentence"),
    [
        ("", make.PASSWORD, "Type your log-in name."),
        ("wren-tern", "", "Type your password."),
        ("wren-tern", "not-this-one", "do not go together"),
        ("wren-tern", make.PASSWORD.upper(), "do not go together"),
        ("wren-tern", f" {make.PASSWORD}", "do not go together"),
        ("nobody\0", make.PASSWORD, "Null characters are not allowed."),
        ("closed", make.PASSWORD, "do not go together"),
    ],
)
def test_what_is_wrong_is_said_the_name_is_kept_and_the_password_never_echoed(
    client, studio, username, password, sentence
):
    for name, active in (("wren-tern", True), ("closed", False)):
        person = make.person(is_active=active)
        person.username = name
        person.save()
    response = attempt(client, username, password)
    html = response.content.decode()
    assert response.status_code == 200
    assert sentence in html
    if username.isprintable() and username:
        assert f'value="{username}"' in html
    assert not password or password not in html
    assert not logged_in(client)


@pytest.mark.parametrize("asked", ["/people/?q=1", "/more/"])
def test_next_is_honoured_on_this_site(client, wren, asked):
    page = client.get(LOGIN, {"next": asked}).content.decode()
    assert f'<input type="hidden" name="next" value="{asked}">' in page
    response = client.post(LOGIN, {"username": wren.username, "password": make.PASSWORD, "next": asked})
    assert response["Location"] == asked


@pytest.mark.parametrize(
    "asked",
    [
        "https://elsewhere.example/",
        "//elsewhere.example/",
        "/\\elsewhere.example",
        "///elsewhere.example",
        "javascript:alert(1)",
        "studio:logout",
        "more",
        "http://testserver.elsewhere.example/",
        "",
    ],
)
def test_next_never_leads_elsewhere(client, wren, asked):
    response = client.post(
        f"{LOGIN}?next=https://elsewhere.example/",
        {"username": wren.username, "password": make.PASSWORD, "next": asked},
    )
    assert response["Location"] == reverse("studio:home")


def lock_out(client, wren):
    """Five failures, the name written in another way each time."""
    name = wren.username
    for tried in (name, name.upper(), f" {name}", name.title(), f"{name} "):
        response = attempt(client, tried, "not-this-one")
    return response


def test_the_fifth_failure_locks_the_name_and_says_until_when(client, wren):
    make.Studio.objects.update(
        time_zone="Asia/Kathmandu"
    )  # 5:45 before UTC: a clock nobody shows by accident
    response = lock_out(client, wren)
    html = response.content.decode()
    last = AccessAttempt.objects.latest("attempt_time").attempt_time
    until = timezone.localtime(last + timedelta(minutes=15), timezone.zoneinfo.ZoneInfo("Asia/Kathmandu"))
    assert response.status_code == 429
    assert f"{until:%H:%M}" in html
    assert "a manager can give you a link" in html
    assert 0 < int(response["Retry-After"]) <= 15 * 60
    assert attempt(client, wren.username).status_code == 429
    assert not logged_in(client)


def test_trying_on_does_not_make_the_wait_longer_and_it_ends(client, wren):
    lock_out(client, wren)
    before = AccessAttempt.objects.get().attempt_time
    attempt(client, wren.username)
    assert AccessAttempt.objects.get().attempt_time == before
    AccessAttempt.objects.update(attempt_time=before - timedelta(minutes=14))
    assert attempt(client, wren.username).status_code == 429
    AccessAttempt.objects.update(attempt_time=before - timedelta(minutes=16))
    assert attempt(client, wren.username).status_code == 302


def test_a_locked_name_locks_neither_the_address_nor_the_name_elsewhere(client, wren):
    lock_out(client, wren)
    other = make.person()
    assert attempt(client, other.username).status_code == 302
    assert attempt(Client(), wren.username, REMOTE_ADDR="192.0.2.7").status_code == 302


def test_a_new_password_lets_a_locked_person_in_at_once(client, wren, manager):
    lock_out(client, wren)
    _link, secret = offer_new_password(by=manager, person=wren)
    words = {"password": "heron-on-the-weir", "again": "heron-on-the-weir"}
    client.post(reverse("studio:join", args=[secret]), words)
    assert logged_in(client)
    assert attempt(Client(), wren.username, "heron-on-the-weir").status_code == 302


def test_getting_in_forgets_the_failures(client, wren):
    for _ in range(4):
        attempt(client, wren.username, "not-this-one")
    attempt(client, wren.username.upper())
    client.logout()
    for _ in range(4):
        assert attempt(client, wren.username, "not-this-one").status_code == 200


@pytest.mark.parametrize(
    ("behind", "forwarded", "address"),
    [
        (False, "198.51.100.4", "192.0.2.1"),
        (True, "198.51.100.4", "198.51.100.4"),
        (True, "203.0.113.9, 198.51.100.4", "198.51.100.4"),
        (True, "2001:db8::4", "2001:db8::4"),
        (True, "nonsense", "192.0.2.1"),
        (True, "", "192.0.2.1"),
    ],
)
def test_only_a_declared_proxy_says_who_asks(settings, behind, forwarded, address):
    settings.BEHIND_PROXY = behind
    request = RequestFactory().get("/", REMOTE_ADDR="192.0.2.1", HTTP_X_FORWARDED_FOR=forwarded)
    assert address_of(request) == address


def test_logging_out_needs_a_press(client, wren):
    client.force_login(wren)
    assert client.get("/logout/").status_code == 405
    assert logged_in(client)
    assert client.post("/logout/")["Location"] == LOGIN
    assert not logged_in(client)


def test_a_visitor_is_brought_back_to_the_page_that_was_asked_for(client, wren):
    asked = client.get("/people/?x=1")["Location"]
    response = client.post(asked, {"username": wren.username, "password": make.PASSWORD})
    assert response["Location"] == "/people/?x=1"
