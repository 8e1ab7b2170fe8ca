"""Every address and method of the API, as every role and kind of token, against a table written by hand.

The table is CALLS in tests/api_table.py, its rows in tests/<app>/api_rows.py. A new endpoint without a row fails here.
"""

import pytest
from django.db import transaction

from tests.api_calls import WHO, ApiWorld, served
from tests.api_table import CALLS


@pytest.fixture
def world(db):
    return ApiWorld()


def test_every_call_has_a_row_and_every_row_a_call():
    listed = {(call.name, call.method) for call in CALLS}
    existing = set(served())
    assert existing - listed == set(), "served without a row in tests/<app>/api_rows.py"
    assert listed - existing == set(), "rows without an address"
    assert len(existing) > 60


def test_each_role_and_token_gets_what_the_table_says(world):
    world.keys  # noqa: B018 - made outside the transactions that are taken back
    wrong = {}
    for call in CALLS:
        # A record made for one row must not be changed by another.
        with transaction.atomic():
            call.kwargs(world), call.body(world)
            found = {}
            for who in WHO:
                with transaction.atomic():
                    response = call.send(world.client(who), world)
                    found[who] = response.status_code
                    transaction.set_rollback(True)
        if found != call.expected():
            expected = call.expected()
            wrong[str(call)] = {
                who: (found[who], expected[who]) for who in WHO if found[who] != expected[who]
            }
    assert wrong == {}, "(answered, written in the table)"
