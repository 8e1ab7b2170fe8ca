"""The wall as a table: its columns, what a spreadsheet must not take for a formula, and its way out line by line."""

import csv
from datetime import date

import pytest

from inventory import actions as shelf
from studio.exports import guarded
from tests import make
from tiles.actions import record_outcome
from tiles.models import Tile


@pytest.fixture
def member_client(client, member):
    client.force_login(member)
    return client


def table(client, text=""):
    response = client.get(f"/wall.csv{text}")
    assert response.status_code == 200
    assert response.streaming
    assert response["Content-Type"] == "text/csv; charset=utf-8"
    assert 'filename="wall.csv"' in response["Content-Disposition"]
    return list(csv.DictReader(b"".join(response.streaming_content).decode().splitlines()))


def test_a_line_says_everything_of_a_tile(member_client, people):
    board = shelf.create_place(by=people["manager"], name="North board", kind="board")
    hook = shelf.create_place(by=people["manager"], name="Hook 7", kind="hook", parent=board)
    fill = make.fill(make.glaze("Ash Celadon"))
    tile = make.tile(
        "312",
        by=people["technician"],
        body=make.body("Weir White"),
        place=hook,
        made_on=date(2026, 3, 4),
        layers=[
            {"fill": fill, "method": "brush", "coats": 2, "ground_state": "damp", "is_even": False},
            {"glaze": make.glaze("Mill Tenmoku"), "area": "upper", "wiped_back": True},
        ],
    )
    make.firing(target="06")
    make.fire(make.firing(target="6"), tile)
    faults = [{"kind": "crazing", "where": "inside"}, {"kind": "running"}]
    record_outcome(
        by=people["member"], tile=tile, zone="whole", surface="satin", verdict="again", faults=faults
    )
    shelf.raise_flag(by=people["member"], fill=fill, kind="contaminated")
    [line] = table(member_client)
    assert line == {
        "number": "312",
        "cone": "cone 6",
        "cone basis": "planned only",
        "body": "Weir White",
        "layers": "Ash Celadon (two coats brushed, all over); Mill Tenmoku (one coat dipped, upper part, wiped back)",
        "how it went on": "1 onto what was damp, uneven",
        "surface": "satin",
        "faults": "crazing: inside; running",
        "verdict": "again",
        "place": "North board › Hook 7",
        "made on": "2026-03-04",
        "state": "recorded",
        "standing": "touched by a flagged bucket",
        "set aside": "",
        "labels": "a layer's label is not known",
        "maker": people["technician"].name,
        "address": "http://testserver/t/312",
    }


def test_what_is_not_known_is_empty(member_client):
    make.tile("1")
    [line] = table(member_client)
    known = {"number", "state", "standing", "maker", "address"}
    assert {name for name, value in line.items() if value} == known


# The six beginnings: https://owasp.org/www-community/attacks/CSV_Injection
@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx"])
def test_a_formula_is_written_as_text(cell):
    assert guarded(cell) == "'" + cell


@pytest.mark.parametrize("cell", ["6", "a=1", "", None, " =1", 312])
def test_anything_else_stays_as_it_is(cell):
    assert guarded(cell) == ("" if cell is None else str(cell))


def test_no_cell_of_the_table_begins_a_formula(member_client):
    make.fired_tile(
        number="9",
        body=make.body("=cmd|' /C calc'!A0"),
        layers=[{"glaze": make.glaze("@SUM(1)")}],
        outcome={"zone": "whole", "faults": [{"kind": "other", "where": "-2"}]},
    )
    [line] = table(member_client)
    assert line["body"] == "'=cmd|' /C calc'!A0"
    assert line["layers"].startswith("'@SUM(1)")
    assert not any(value.startswith(("=", "+", "-", "@", "\t", "\r")) for value in line.values())


def test_it_follows_the_filters_and_the_order_of_the_wall(member_client):
    for number, target in (("A", "5"), ("B", "6"), ("C", "5.5")):
        make.fired_tile(number=number, target=target)
    make.tile("D")
    assert [line["number"] for line in table(member_client)] == ["B", "C", "A", "D"]
    assert [line["number"] for line in table(member_client, "?cone_min=5.5")] == ["B", "C"]


def test_it_is_sent_in_parts(member_client):
    """More tiles than one reading of the database brings are all there."""
    Tile.objects.bulk_create(Tile(number=f"X{n}", maker=make.manager()) for n in range(450))
    lines = table(member_client)
    assert len({line["number"] for line in lines}) == 450


def test_a_filter_that_cannot_be_used_is_refused_in_words(member_client):
    response = member_client.get("/wall.csv?cone_min=6&cone_max=06&glase=1")
    assert response.status_code == 400
    assert response["Content-Type"] == "text/plain; charset=utf-8"
    assert "Did you mean glaze?" in response.content.decode()
