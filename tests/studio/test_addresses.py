"""An address that names nothing is answered with 404, whatever stands in it."""

import pytest


@pytest.mark.parametrize("address", ["/b/%00", "/b/%00/flag", "/t/%00", "/t/%00/log", "/api/v1/%00"])
def test_a_nul_in_an_address_names_nothing(client, member, address):
    """PostgreSQL takes no NUL in a text, SQLite does."""
    client.force_login(member)
    assert client.get(address).status_code == 404
