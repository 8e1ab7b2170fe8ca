"""The shelf page: the order of the walk, own jars apart, ages in words, and true counts beside every answer."""

import itertools
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inventory import actions as shelf
from tests import make
from tests.inventory.stood import Stood, cases, query

SHELF = "/shelf/"


@pytest.fixture
def stood(people):
    return Stood(people)


def counts(client, text=""):
    """{(question, answer): buckets} as the page shows them."""
    found = client.get(f"{SHELF}?{text}").context["facets"]
    return {(facet.name, answer.value): answer.count for facet in found for answer in facet.answers}


def headings(client):
    return [k for k, _g in itertools.groupby(client.get(SHELF).context["lids"], lambda row: row["heading"])]


def test_places_come_as_one_walks_each_once_and_own_jars_last(client, member, stood):
    client.force_login(member)
    assert headings(client) == [
        "The door",
        "The room",
        "The room › The high",
        "The room › The low",
        "The room › The low › The hook",
        "Without a place",
        "Own jars",
    ]


def test_shelves_of_one_name_and_order_in_two_rooms_do_not_mix(client, member, manager):
    for room in ("East", "West"):
        place = shelf.create_place(by=manager, name=room, order=1)
        top = shelf.create_place(by=manager, name="Top", order=1, parent=place)
        for _i in range(4):
            make.bucket(place=top)
    client.force_login(member)
    assert headings(client) == ["East › Top", "West › Top"]


def test_each_count_is_what_choosing_that_answer_shows(client, member, stood):
    """Under nothing else, and under one answer of every other question."""
    client.force_login(member)
    meanings = [case for case in cases(stood, member) if case[0] not in ("q", "code") and case[1] != "^6"]
    others = list({case[0]: case for case in cases(stood, member) if case[0] != "code"}.values())
    for under in [None, *others]:
        shown = counts(client, query(under) if under else "")
        for name, value, fits in meanings:
            both = [fits, under[2]] if under and under[0] != name else [fits]
            assert shown.get((name, value), 0) == len(stood.codes(*both)), (name, value, under and under[:2])
    away = stood.codes(archived=True)
    assert counts(client)["archived", "true"] == len(away) == 1
    assert counts(client, "archived=true")["use", "use"] == 0


def test_counts_are_on_the_page_and_come_anew_with_the_fragment(client, member, stood):
    client.force_login(member)
    low = len(stood.codes(next(fit for name, _v, fit in cases(stood, member) if name == "low")))
    tick = f'A quarter full or less <span class="soft num">{low}</span>'
    assert tick in client.get(SHELF).content.decode()
    fragment = client.get(f"{SHELF}?use=use", headers={"HX-Request": "true"}).content.decode()
    assert 'id="asked" hx-swap-oob="true"' in fragment
    assert tick not in fragment


def test_what_is_asked_stands_above_the_lids_each_to_be_left_out(client, member, stood):
    client.force_login(member)
    page = client.get(f"{SHELF}?use=use&low=true&q=weir")
    assert page.context["chosen"] == [
        ("use it", "low=true&q=weir"),
        ("a quarter full or less", "use=use&q=weir"),
    ]
    assert 'href="/shelf/?low=true&amp;q=weir"' in page.content.decode()


def test_age_is_said_in_words(client, member, manager):
    today = timezone.localdate()
    make.fill(make.glaze("A"), made_on=today - timedelta(days=21))
    make.fill(make.glaze("B", origin="bought"), made_on=today - timedelta(days=2))
    make.fill(make.glaze("C"), days_ago=14)
    client.force_login(member)
    page = client.get(SHELF).content.decode().replace("\xa0", " ")
    for words in ("mixed 3 weeks ago", "opened 2 days ago", "put into this bucket 2 weeks ago"):
        assert words in page


def test_put_away_buckets_and_ended_fills_are_kept(client, member, stood):
    client.force_login(member)
    away, emptied = stood.buckets["away"], stood.buckets["emptied"]
    assert away.code not in client.get(SHELF).content.decode()
    assert "Put away on" in client.get(f"{SHELF}?archived=true").content.decode()
    page = client.get(emptied.get_absolute_url()).content.decode()
    assert "What was in it before" in page
    assert "used up" in page


def test_twelve_buckets_cost_as_many_queries_as_three(client, member, manager):
    client.force_login(member)

    def add(count):
        for _i in range(count):
            place = shelf.create_place(by=manager, name=f"Shelf {next(make._n)}", order=1)
            fill = make.fill(bucket_=make.bucket(place=place), sg="1.5", level="half")
            shelf.raise_flag(by=member, fill=fill, kind="contaminated")
            make.fill(bucket_=make.bucket(by=member, owner=member), by=member)

    def queries(text):
        with CaptureQueriesContext(
            connection,
        ) as caught:
            answer = client.get(text)
            if answer.streaming:
                b"".join(answer.streaming_content)
        return len(caught)

    addresses = [SHELF, f"{SHELF}?use=do_not_use&low=false", "/shelf.csv", "/api/v1/buckets/"]
    add(3)
    few = [queries(address) for address in addresses]
    add(9)
    assert [queries(address) for address in addresses] == few
    assert max(few) < 25
