"""The register: one set of rows for page, table and API, in the order of the walk."""

import csv
import io
import re
from datetime import date
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inventory import actions as shelf
from inventory.models import Bucket, Fill
from inventory.register import COLUMNS
from tests import make


def ids_of_page(client, query=""):
    return re.findall(r'id="fill-([0-9a-f-]+)"', client.get(f"/register/{query}").content.decode())


def table(client, query=""):
    text = b"".join(client.get(f"/register.csv{query}").streaming_content).decode()
    return list(csv.DictReader(io.StringIO(text)))


def ids_of_api(client, query=""):
    found, address = [], f"/api/v1/register/{query}"
    while address:
        page = client.get(address).json()
        found += [row["id"] for row in page["results"]]
        address = page["next"]
    return found


@pytest.fixture
def shelves(studio):
    room = shelf.create_place(by=make.manager(), name="Glaze room", kind="room")
    return {
        "low": shelf.create_place(by=make.manager(), name="Low shelf", order=2, parent=room),
        "high": shelf.create_place(by=make.manager(), name="High shelf", order=1, parent=room),
    }


@pytest.fixture
def fills(shelves, people):
    """In the order of the walk: high shelf, low shelf by code, no place."""
    green = make.glaze("Weir Green", sg_low=Decimal("1.44"), sg_high=Decimal("1.5"))
    bought = make.glaze("=Bought Blue", origin="bought", health_statement="Irritates skin.")
    nowhere = make.fill(green)
    low = sorted(
        (make.fill(green, bucket_=make.bucket(place=shelves["low"])) for _i in range(2)),
        key=lambda f: f.bucket.code,
    )
    high = make.fill(
        bought,
        bucket_=make.bucket(place=shelves["high"]),
        by=people["technician"],
        lot="+L7",
        made_on=date(2026, 3, 4),
        label="food_safe",
        label_condition="alone, cone 6",
        child_fit="no",
        container_size="500 mL",
        price=Decimal("12.50"),
        level="half",
        sg="1.47",
    )
    shelf.raise_flag(by=people["member"], fill=low[0], kind="contaminated")
    return [high, *low, nowhere]


def test_page_table_and_api_show_the_same_fills_in_the_order_of_the_walk(client, people, fills, shelves):
    ended, put_away = make.fill(), make.fill()
    shelf.end_fill(by=people["manager"], fill=ended, why="used up")
    Bucket.objects.filter(pk=put_away.bucket_id).update(archived_at=ended.started_at)
    client.force_login(people["member"])
    expected = [str(f.pk) for f in fills]
    for query, some in (
        ("", expected),
        (f"?place={shelves['low'].pk}", expected[1:3]),
        ("?use=do_not_use", expected[1:2]),
        ("?child_fit=no", expected[:1]),
        ("?food=mixed_here", expected[1:]),
    ):
        assert ids_of_page(client, query) == some
        assert [row["id"] for row in table(client, query)] == some
        assert ids_of_api(client, query) == some
    assert ids_of_api(client, "?page_size=1") == expected


def test_an_unknown_filter_is_named_by_all_three(client, people, fills):
    client.force_login(people["member"])
    page = client.get("/register/?plase=1").content.decode()
    assert "plase" in page
    assert "in use" not in page, "nothing was counted"
    assert ids_of_page(client, "?plase=1") == []
    assert client.get("/register.csv?plase=1").status_code == 400
    assert client.get("/api/v1/register/?plase=1").status_code == 400


def test_a_row_says_what_is_known_of_a_fill(client, people, fills):
    client.force_login(people["technician"])
    high, low, _other, nowhere = table(client)
    reader = people["technician"].name
    assert high["place"] == "Glaze room, High shelf"
    assert (high["label"], high["label_condition"]) == ("“food safe”", "alone, cone 6")
    assert (high["label_read_by"], high["child_fit_read_by"]) == (reader, reader)
    assert (high["made_on"], high["sg"], high["level"]) == ("2026-03-04", "1.47", "half")
    assert (high["balance_ml"], high["volume"]) == ("5000.0", "5 L")
    assert high["health_statement"] == "Irritates skin."
    assert high["child_fit"] == "the container warns against it"
    assert (low["use_words"], low["flags"]) == ("Do not use", "contaminated, since when is not known")
    assert low["food_words"] == "Mixed here: not known"
    assert (low["sg"], low["sg_window"]) == ("", "1.44 to 1.50")
    assert (nowhere["place"], nowhere["label"]) == ("", "mixed here, no label")
    page = client.get("/register/").content.decode()
    for words in ("Irritates skin.", "Glaze room, High shelf", "alone, cone 6", reader, "lot +L7"):
        assert words in page


def test_no_cell_is_a_formula(client, people, fills):
    client.force_login(people["technician"])
    high = table(client)[0]
    assert (high["glaze"], high["lot"]) == ("'=Bought Blue", "'+L7")


def test_size_and_price_are_for_technicians_and_for_whose_own_jar_it_is(client, people, fills):
    member = people["member"]
    jar = make.bucket(by=member, owner=member)
    own = make.fill(make.glaze(origin="bought"), bucket_=jar, by=member, price=Decimal("7.25"))
    for who, high_price, own_price in (
        ("technician", "12.50", "7.25"),
        ("member", "", "7.25"),
        ("other", "", ""),
    ):
        client.force_login(people[who])
        rows = {row["id"]: row for row in table(client)}
        assert (rows[str(fills[0].pk)]["price"], rows[str(own.pk)]["price"]) == (high_price, own_price)
        assert rows[str(fills[0].pk)]["container_size"] == ("500 mL" if high_price else "")
        page = client.get("/register/").content.decode()
        assert ("12.50" in page, "500 mL" in page) == (bool(high_price), bool(high_price))
        one = client.get(f"/api/v1/fills/{fills[0].pk}/").json()
        assert (one["price"], one["container_size"]) == (
            (high_price, "500 mL") if high_price else (None, None)
        )
        row = client.get("/api/v1/register/").json()["results"][0]
        assert row["price"] == (high_price or None)
        assert list(row) == COLUMNS


def test_what_was_paid_is_in_the_history_only_for_whoever_reads_it_elsewhere(client, people, fills):
    """A price that was put right leaves the old one and the new one in the history."""
    member, other = people["member"], people["other"]
    jar = make.bucket(by=member, owner=member)
    own = make.fill(make.glaze(origin="bought"), bucket_=jar, by=member, price=Decimal("7.25"))
    for fill, price, by in ((fills[0], "13.75", people["manager"]), (own, "8.75", member)):
        values = {"price": Decimal(price), "container_size": "473 mL", "lot": "L-77"}
        shelf.change_fill(by=by, obj=fill, values=values)
    for who, reads_high, reads_own in (
        (people["technician"], True, True),
        (member, False, True),
        (other, False, False),
    ):
        client.force_login(who)
        for fill, reads in ((fills[0], reads_high), (own, reads_own)):
            page = client.get(reverse("studio:history-of", args=["inventory.fill", fill.pk])).content.decode()
            of_it = {"kind": "inventory.fill", "object": str(fill.pk)}
            answer = client.get("/api/v1/changes/", of_it)
            assert answer.status_code == 200, answer.content
            rows = answer.json()["results"]
            one = client.get(f"/api/v1/changes/{rows[0]['id']}/").json()
            assert "L-77" in page
            assert {row["after"].get("lot") for row in (rows[0], one)} == {"L-77"}
            for row in (page, str(rows), str(one)):
                assert ("473 mL" in row) is reads
                assert any(price in row for price in ("12.50", "13.75", "7.25", "8.75")) is reads


def test_twelve_fills_cost_as_many_queries_as_three(client, people, shelves):
    def more(count):
        for _i in range(count):
            fill = make.fill(
                make.glaze(origin="bought"),
                bucket_=make.bucket(place=shelves["low"]),
                label="none",
                child_fit="yes",
                sg="1.45",
            )
            shelf.raise_flag(by=people["member"], fill=fill, kind="other", note="look")

    def cost(address):
        with CaptureQueriesContext(connection) as queries:
            answer = client.get(address)
            list(getattr(answer, "streaming_content", []))
        return len(queries)

    client.force_login(people["technician"])
    addresses = ("/register/", "/register.csv", "/api/v1/register/")
    more(3)
    few = [cost(address) for address in addresses]
    more(9)
    assert [cost(address) for address in addresses] == few
    assert Fill.objects.count() == 12
