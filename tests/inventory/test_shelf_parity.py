"""One question, four doors: page, fragment, table and API show the same buckets, and those that it means."""

import csv
import itertools

import pytest

from inventory.filters import BucketFilter
from tests.inventory.stood import Stood, cases, query

SHELF, TABLE, API = "/shelf/", "/shelf.csv", "/api/v1/buckets/"


@pytest.fixture
def stood(people):
    return Stood(people)


def of_page(client, text, **headers):
    answer = client.get(f"{SHELF}?{text}", **headers)
    found = [row["bucket"].code for row in answer.context["lids"]]
    html = answer.content.decode()
    assert all(f'href="/b/{code}"' in html for code in found)
    return found


def of_fragment(client, text):
    return of_page(client, text, headers={"HX-Request": "true"})


def of_table(client, text):
    answer = client.get(f"{TABLE}?{text}")
    return [row["code"] for row in csv.DictReader(b"".join(answer.streaming_content).decode().splitlines())]


def of_api(client, text):
    return [
        row["code"] for row in client.get(f"{API}?{text}&page_size=200".replace("?&", "?")).json()["results"]
    ]


DOORS = [of_page, of_fragment, of_table, of_api]


def agree(client, text, expected):
    shown = {door.__name__: door(client, text) for door in DOORS}
    assert {name: sorted(codes) for name, codes in shown.items()} == dict.fromkeys(shown, expected), text
    assert len(set(map(tuple, shown.values()))) == 1, "in different orders"


def test_every_question_at_every_door_finds_the_buckets_that_it_means(client, stood, member):
    client.force_login(member)
    meanings, fitting = cases(stood, member), {}
    for case in meanings:
        expected = stood.codes(case[2])
        fitting.setdefault(case[0], []).append(len(expected))
        agree(client, query(case), expected)
    assert set(fitting) == set(BucketFilter.base_filters) - {"archived"}, "a question without a case"
    everything = len(stood.codes())
    assert all(any(0 < n < everything for n in counts) for counts in fitting.values()), fitting
    agree(client, "", stood.codes())
    agree(client, "archived=true", stood.codes(archived=True))


def test_questions_together_mean_all_of_them(client, stood, member):
    client.force_login(member)
    firsts = list({case[0]: case for case in cases(stood, member)}.values())
    for one, two in itertools.islice(itertools.combinations(firsts, 2), 0, None, 7):
        agree(client, query(one, two), stood.codes(one[2], two[2]))


@pytest.mark.parametrize("text", ["uze=use", "use=maybe", "cone=66", "place=nowhere", "low=perhaps"])
def test_what_is_not_understood_is_refused_at_each_door(client, stood, member, text):
    client.force_login(member)
    for headers in ({}, {"HX-Request": "true"}):
        answer = client.get(f"{SHELF}?{text}", headers=headers)
        assert answer.context["lids"] == []
        assert 'role="alert"' in answer.content.decode()
    refused = client.get(f"{TABLE}?{text}")
    assert (refused.status_code, refused["Content-Type"]) == (400, "text/plain; charset=utf-8")
    assert text.partition("=")[0] in refused.content.decode()
    assert client.get(f"{API}?{text}").status_code == 400


def test_no_cell_of_the_table_is_a_formula(client, stood, member):
    stood.buckets["empty"].remark = "=1+1"
    stood.buckets["empty"].save()
    client.force_login(member)
    text = b"".join(client.get(TABLE).streaming_content).decode()
    assert "'=1+1" in text
    assert ",=1+1" not in text
