"""Writes that walk from bucket to bucket queue up before they hold any fill, so that two never wait for each other.

SQLite lets one writer in at a time; the order of the statements is what PostgreSQL's row locks go by.
"""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import actions as shelf
from tests import make


@pytest.mark.parametrize("walks", ["raise_flag", "clear_flag", "transfer", "revive", "change_fill"])
def test_the_queue_comes_before_the_first_fill(people, walks):
    by = people["technician"]
    glaze = make.glaze(origin="bought")
    fill, target = make.fill(glaze, level="half"), make.fill(glaze, level="half")
    flag = shelf.raise_flag(by=by, fill=fill, kind="dried_out")
    write = {
        "raise_flag": lambda: shelf.raise_flag(by=by, fill=fill, kind="contaminated"),
        "clear_flag": lambda: shelf.clear_flag(by=by, flag=flag, outcome="emptied"),
        "transfer": lambda: shelf.transfer(by=by, source=fill, target=target),
        "revive": lambda: shelf.revive(by=by, fill=fill, water_ml=Decimal(500)),
        "change_fill": lambda: shelf.change_fill(by=by, obj=fill, values={"label": "not_for_food"}),
    }[walks]
    with CaptureQueriesContext(
        connection,
    ) as queries:
        write()
    said = [query["sql"] for query in queries]
    locks = [n for n, sql in enumerate(said) if 'FROM "studio_studio"' in sql]
    holds = [
        n for n, sql in enumerate(said) if sql.startswith('UPDATE "inventory_fill"') or "FOR UPDATE" in sql
    ]
    assert locks[0] <= holds[0]
