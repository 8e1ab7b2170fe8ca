import gc

import pytest
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
