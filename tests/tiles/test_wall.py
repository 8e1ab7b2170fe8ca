"""What the wall shows: rails, captions, the filters that are set, the pages, and its way without JavaScript."""

import re

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import record_outcome
from tiles.models import Tile
from tiles.views import wall as wall_view

WALL = "/wall/"
HTMX = {"HX-Request": "true"}


@pytest.fixture
def member_client(client, member):
    client.force_login(member)
    return client


def rails(response):
    hung = response.context["rails"]
    return {plain(rail.name): [card.number for card in rail.cards] for rail, _alone in hung}


def plain(words):
    """With spaces where a figure is kept on one line with its unit."""
    return words.replace("\xa0", " ")


def proved(target="6"):
    return {"witness": [{"cone": make.cone(target), "bend_degrees": 90}]}


def test_tiles_hang_by_cone_hottest_first_and_unfired_last(member_client):
    make.tile("N1")
    for number, target in (("A1", "06"), ("B1", "6"), ("C1", "10"), ("B2", "6")):
        made = make.tile(number, layers=[{"glaze": make.glaze()}])
        make.fire(make.firing(make.kiln(highest="12"), target=target), made, **proved(target))
    stood = make.tile("S1", layers=[{"glaze": make.glaze()}])
    make.fire(make.firing(), stood, witness=[{"cone": make.cone("6"), "bend_degrees": 30}])
    response = member_client.get(WALL)
    # 1222, 998 and 1285 °C: fixtures/cones.csv, self-supporting cones at 60 °C/h.
    assert list(rails(response).items()) == [
        ("cone 10 · about 1285 °C", ["C1"]),
        ("cone 6 · about 1222 °C", ["B2", "B1"]),
        ("cone 06 · about 998 °C", ["A1"]),
        ("fired, cone not known", ["S1"]),
        ("not fired yet", ["N1"]),
    ]
    assert "6 tiles" in text_of(response)


def test_the_rail_speaks_fahrenheit_to_who_wants_it(client, people):
    make.fired_tile()
    people["member"].temperature_unit = "f"
    people["member"].save()
    client.force_login(people["member"])
    assert list(rails(client.get(WALL))) == ["cone 6 · about 2232 °F"]


def test_a_cone_that_is_only_planned_is_marked_on_the_caption(member_client):
    make.fired_tile(number="P1")
    tile = make.tile("W1", layers=[{"glaze": make.glaze()}])
    make.fire(make.firing(), tile, **proved())
    response = member_client.get(WALL)
    cards = {card.number: card for rail, _alone in response.context["rails"] for card in rail.cards}
    assert "cone planned only" in cards["P1"].facts
    assert "cone planned only" not in cards["W1"].facts
    assert text_of(response).count("planned only") == 1


def test_two_presses_from_the_open_wall_to_satin_at_cone_6(member_client, manager):
    wanted = make.fired_tile(number="Y1", outcome={"zone": "whole", "surface": "satin"})
    make.fired_tile(number="N1", outcome={"zone": "whole", "surface": "glossy"})
    make.fired_tile(number="N2", target="5", outcome={"zone": "whole", "surface": "satin"})
    after_search = member_client.get(WALL, {"q": "satin"})
    rail, alone = after_search.context["rails"][0]
    assert rail.name.startswith("cone 6")
    assert f'href="{WALL}{alone.replace("&", "&amp;")}"' in after_search.content.decode()
    assert rails(member_client.get(WALL + alone)) == {plain(rail.name): [wanted.number]}
    assert rails(member_client.get(WALL, {"q": "satin cone 6"})) == {plain(rail.name): [wanted.number]}


def test_filters_that_are_set_are_said_and_each_can_be_taken_away(member_client):
    glaze = make.glaze("Mill Tenmoku")
    response = member_client.get(
        WALL,
        {"surface": ["satin", "dry"], "cone_min": "06", "glaze_top": str(glaze.pk), "q": "", "cursor": ""},
    )
    said = {plain(one.words): one.without for one in response.context["asked"]}
    assert list(said) == ["satin", "dry", "from cone 06 (998 °C)", "Mill Tenmoku on top"]
    assert said["satin"] == f"surface=dry&cone_min=06&glaze_top={glaze.pk}"
    assert said["Mill Tenmoku on top"] == "surface=satin&surface=dry&cone_min=06"
    shown = text_of(response)
    assert "from cone 06 (998 °C) × take this filter away" in shown
    assert "Take all away" in shown
    one_cone = member_client.get(WALL, {"cone_min": "6", "cone_max": "6", "q": "ash"})
    said = {plain(one.words): one.without for one in one_cone.context["asked"]}
    assert said == {"cone 6 (1222 °C)": "q=ash", "“ash”": "cone_min=6&cone_max=6"}


def test_the_fragment_is_what_hangs_and_nothing_else(member_client):
    make.fired_tile(number="Q1", outcome={"zone": "whole", "surface": "satin"})
    response = member_client.get(WALL, {"surface": "satin", "q": "", "cone_min": ""}, headers=HTMX)
    html = response.content.decode()
    assert html.startswith('<div id="hung">') or '<div id="hung">' in html[:200]
    assert "<html" not in html
    assert 'id="asks"' not in html
    assert response["HX-Push-Url"] == "/wall/?surface=satin"
    assert "HX-Request" in response["Vary"]
    assert "Q1" in text_of(response)
    here = {**HTMX, "HX-Current-URL": "http://testserver/wall/?surface=satin"}
    assert "HX-Push-Url" not in member_client.get(WALL, {"surface": "satin"}, headers=here)
    back = member_client.get(WALL, headers={**HTMX, "HX-History-Restore-Request": "true"})
    assert "<html" in back.content.decode()


def test_it_works_as_a_plain_form(member_client):
    make.fired_tile(number="Q1", outcome={"zone": "whole", "surface": "satin"})
    html = member_client.get(WALL, {"surface": "satin", "cone_min": "6"}).content.decode()
    form = html[html.index("<form") : html.index("</form>")]
    assert 'method="get"' in form
    assert re.search(r'name="surface" value="satin"[^>]*checked', form)
    assert re.search(r'name="cone_min" value="6"', form)
    assert re.search(r'<input[^>]*type="search"[^>]*name="q"|name="q"[^>]*type="search"', form)
    assert "<button" in form
    assert "style=" not in html
    assert not re.search(r"<script(?![^>]*src=)", html)


def test_what_cannot_be_used_stays_typed(member_client):
    make.fired_tile(number="Q1")
    response = member_client.get(WALL, {"cone_min": "6", "cone_max": "06", "q": "blue"})
    shown = text_of(response)
    assert "From cone 6 to cone 06 is the wrong way round: 06 is cooler. Swap them." in shown
    assert "Q1" not in shown
    for typed in ('name="cone_min" value="6"', 'name="cone_max" value="06"', 'value="blue"'):
        assert typed in response.content.decode()


def test_the_empty_wall_offers_the_first_step(member_client):
    response = member_client.get(WALL)
    assert f'href="{reverse("tiles:log-start")}"' in response.content.decode()
    assert "0 tiles" in text_of(response)


def test_a_search_that_finds_nothing_offers_the_whole_wall(member_client):
    make.tile("A1")
    shown = text_of(member_client.get(WALL, {"q": "nothing like it"}))
    assert "No tile fits all of this" in shown
    assert "Show the whole wall" in shown


def test_counts_are_exact_up_to_the_limit(member_client, monkeypatch):
    monkeypatch.setattr(wall_view, "COUNTED", 3)
    [make.tile() for _ in range(3)]
    assert "3 tiles" in text_of(member_client.get(WALL))
    make.tile()
    assert "over 1 000 tiles" in text_of(member_client.get(WALL))


def test_walking_the_pages_meets_each_tile_once(member_client):
    for number in range(9):
        made = make.tile(f"T{number}x", layers=[{"glaze": make.glaze()}])
        if number % 3:
            make.fire(make.firing(target="6" if number % 2 else "5"), made)
    address, seen = f"{WALL}?page_size=2", []
    while address:
        response = member_client.get(address)
        seen += [number for numbers in rails(response).values() for number in numbers]
        address = response.context["next_url"]
        make.tile()  # hung while somebody looks: newest of the unfired, so before the last pages
    assert len(seen) == len(set(seen))
    assert {f"T{n}x" for n in range(9)} <= set(seen)


def tiles_of_all_sorts(n):
    for _ in range(n):
        tile = make.fired_tile(
            body=make.body(),
            layers=[{"fill": make.fill()}, {"glaze": make.glaze()}],
            outcome={"zone": "whole", "surface": "satin", "faults": [{"kind": "crazing"}]},
        )
        record_outcome(by=tile.maker, tile=tile, zone="whole", surface="dry")
        make.tile()


@pytest.mark.parametrize(
    ("address", "headers"),
    [
        (WALL, {}),
        (WALL, HTMX),
        (f"{WALL}?surface=satin&standing=clear&label=not_known&q=a", {}),
        ("/wall.csv", {}),
    ],
)
def test_more_tiles_ask_no_more_queries(member_client, address, headers):
    same_for_more(member_client, address, tiles_of_all_sorts, **headers)
    assert Tile.objects.count() == 24
