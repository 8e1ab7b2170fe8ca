import pytest


@pytest.fixture
def tech(client, technician):
    """A browser in which a technician is logged in."""
    client.force_login(technician)
    return client
