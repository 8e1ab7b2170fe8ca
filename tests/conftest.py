import pytest

from tests import make


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
