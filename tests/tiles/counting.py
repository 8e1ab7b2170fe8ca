"""How many queries a page asks, to see that more rows ask no more."""

from django.db import connection
from django.test.utils import CaptureQueriesContext


def queries(client, address, **headers):
    """The number of queries behind an answer, with everything that is streamed."""
    client.get(address, headers=headers)  # what is cached once per process
    with CaptureQueriesContext(
        connection,
    ) as caught:
        response = client.get(address, headers=headers)
        if response.streaming:
            b"".join(response.streaming_content)
    assert response.status_code == 200
    return len(caught)


def same_for_more(client, address, add, **headers):
    """The page asks as many queries for 12 rows as for 3; `add(n)` adds rows."""
    add(3)
    few = queries(client, address, **headers)
    add(9)
    assert queries(client, address, **headers) == few
