"""One question, four doors: page, fragment, CSV and API show the same tiles to the same person."""

import csv

import pytest
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tiles.hung import Hung
from tests.tiles.meanings import cases, numbers, query

API = "/api/v1/tiles/"


@pytest.fixture
def wall(people):
    return Hung(people)


def of_page(client, text, **headers):
    response = client.get(f"{reverse('tiles:wall')}?{text}", **headers)
    assert response.status_code == 200
    shown = [card.number for rail, _alone in response.context["rails"] for card in rail.cards]
    html = response.content.decode()
    assert all(f">{number}</p>" in html for number in shown), "a tile in the context only"
    assert html.count('class="tile"') == len(shown)
    return sorted(shown)


def of_fragment(client, text):
    return of_page(client, text, headers={"HX-Request": "true"})


def of_csv(client, text):
    response = client.get(f"{reverse('tiles:wall-csv')}?{text}")
    assert response.status_code == 200, response.content
    lines = list(csv.DictReader(b"".join(response.streaming_content).decode().splitlines()))
    return sorted(line["number"] for line in lines)


def of_api(client, text):
    response = client.get(f"{API}?{text}&page_size=200" if text else f"{API}?page_size=200")
    assert response.status_code == 200, response.content
    return sorted(row["number"] for row in response.json()["results"])


DOORS = [of_page, of_fragment, of_csv, of_api]


def test_the_four_doors_agree(wall, client, member, technician):
    meanings = cases(wall)
    singles = [[case] for case in {case[0]: case for case in meanings}.values()]
    strategy = st.lists(st.sampled_from(meanings), max_size=3, unique_by=lambda case: case[0])

    def agree(chosen, person):
        names = {name for name, _value, _fit in chosen}
        if {"cone_min", "cone_max"} <= names or {"date_from", "date_to"} <= names:
            return
        client.force_login(person)
        expected = numbers(wall, person, *(fit for _name, _value, fit in chosen))
        assert {door.__name__: door(client, query(*chosen)) for door in DOORS} == {
            door.__name__: expected for door in DOORS
        }

    agree([], member)
    agree([], technician)
    for chosen in singles:
        agree(chosen, member)

    @settings(max_examples=8, deadline=None)
    @given(strategy, st.sampled_from([member, technician]))
    def check(chosen, person):
        agree(chosen, person)

    check()


def test_nobody_finds_a_private_tile_of_another(wall, client, member, technician):
    private, own = wall.tiles["others_private"], wall.tiles["own_private"]
    lures = ["", f"q={private.number}", f"maker={wall.people['other'].pk}", "surface=satin&q=bluish"]
    client.force_login(member)
    for door in DOORS:
        for lure in lures:
            assert private.number not in door(client, lure), door
        assert own.number in door(client, ""), door
    client.force_login(technician)
    for door in DOORS:
        assert private.number in door(client, ""), door


@pytest.mark.parametrize(
    "text", ["cone_min=6&cone_max=06", "glase=x", "surface=shiny", "cone_min=hot", "cursor=x"]
)
def test_what_cannot_be_used_is_refused_at_each_door(client, member, text):
    client.force_login(member)
    for headers in ({}, {"HX-Request": "true"}):
        response = client.get(f"{reverse('tiles:wall')}?{text}", headers=headers)
        assert response.status_code == 200
        assert 'class="tile"' not in response.content.decode()
        assert "nothing is shown" in response.content.decode()
    if text != "cursor=x":  # a table has no pages
        refused = client.get(f"{reverse('tiles:wall-csv')}?{text}")
        assert (refused.status_code, refused["Content-Type"]) == (400, "text/plain; charset=utf-8")
    assert client.get(f"{API}?{text}").status_code == 400


def test_a_visitor_is_sent_to_the_login_at_each_door(client, studio):
    for address in (reverse("tiles:wall"), reverse("tiles:wall-csv")):
        response = client.get(address)
        assert response.status_code == 302
        assert response["Location"].startswith(reverse("studio:login"))
    assert client.get(API).status_code == 401
