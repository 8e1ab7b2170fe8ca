import gc
from types import SimpleNamespace

import pytest
from django.conf import settings as real_settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.test import Client, SimpleTestCase
from hypothesis import HealthCheck, settings

from tests import make

# How long a generated example takes tells how busy the machine is, and nothing of the code.
settings.register_profile("tests", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("tests")


def pytest_collection_finish():
    """All that was imported and collected stays to the end, so the collector need not look through it again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


ASK_FOR_THE_DATABASE = {"db", "transactional_db", "django_db_reset_sequences", "live_server"}


def pytest_addoption(parser):
    parser.addoption("--with-database", action="store_true", help="only the tests that ask for the database")


def pytest_collection_modifyitems(config, items):
    """Nobody else can meet it: pytest-django refuses it to whoever has not asked."""
    if config.getoption("--with-database"):
        asking = [item for item in items if asks_for_the_database(item)]
        config.hook.pytest_deselected(items=[*set(items).difference(asking)])
        items[:] = asking


def asks_for_the_database(item) -> bool:
    case = getattr(item, "cls", None)
    return bool(
        item.get_closest_marker("django_db")
        or ASK_FOR_THE_DATABASE & set(getattr(item, "fixturenames", ()))
        or (case and issubclass(case, SimpleTestCase))
    )


whole_log_in = Client.force_login


def log_in_quickly(client, user, backend=None):
    """The session that a log-in leaves. What else logging in does is for the tests that send the form."""
    if real_settings.SESSION_COOKIE_NAME in client.cookies:
        return whole_log_in(client, user, backend)
    user.backend = backend or client._get_backend()
    session = SessionStore()
    session[SESSION_KEY] = user._meta.pk.value_to_string(user)
    session[BACKEND_SESSION_KEY] = user.backend
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.create()
    return client._set_login_cookies(SimpleNamespace(session=session))


Client.force_login = log_in_quickly


@pytest.fixture
def studio(db):
    return make.studio()


@pytest.fixture
def people(studio):
    """One person of each role, by role name, and a second member."""
    found = {role: make.person(role) for role in ("manager", "technician", "member")}
    return {**found, "other": make.person("member", name="Second Member")}


@pytest.fixture
def member(people):
    return people["member"]


@pytest.fixture
def technician(people):
    return people["technician"]


@pytest.fixture
def manager(people):
    return people["manager"]
