"""Tiles side by side: only what differs stands below the pictures, and a private tile is not there."""

from decimal import Decimal

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.counting import queries
from tiles.actions import record_outcome

COMPARE = "/compare/"


@pytest.fixture
def member_client(client, member):
    client.force_login(member)
    return client


def facts(response, which):
    return {fact.name: fact.said for fact in response.context[which]}


@pytest.fixture
def pair(people):
    body, ash, shino = make.body("Weir White"), make.glaze("Ash Celadon"), make.glaze("Weir Shino")
    fill = make.fill(ash, sg="1.45")
    one = make.tile("312", body=body, layers=[{"fill": fill, "coats": 2}])
    two = make.tile("318", body=body, layers=[{"fill": fill}, {"glaze": shino, "method": "brush"}])
    make.fire(make.firing(make.kiln("In the barn"), target="6"), one, two)
    record_outcome(by=one.maker, tile=one, zone="whole", surface="satin", movement_mm=Decimal(2))
    record_outcome(by=two.maker, tile=two, zone="whole", surface="satin", faults=[{"kind": "crazing"}])
    return one, two


def test_only_what_differs_stands_below_the_pictures(member_client, pair):
    response = member_client.get(COMPARE, {"t": ["312", "318"]})
    code = pair[0].layers.get().fill.bucket.code
    assert facts(response, "differs") == {
        "layer 1": ("Ash Celadon: two coats dipped, all over", "Ash Celadon: one coat dipped, all over"),
        "layer 2": ("no such layer", "Weir Shino: one coat brushed, all over"),
        "out of": (f"{code} at SG 1.450", f"{code} at SG 1.450; bucket not noted"),
        "moved down": ("2 mm", "not known"),
        "faults": ("none seen", "crazing"),
    }
    same = facts(response, "same")
    assert same["clay body"] == ("Weir White", "Weir White")
    assert same["surface"] == ("satin", "satin")
    assert "In the barn, oxidation, meant for cone 6" in same["firing"][0].replace("\xa0", " ")
    assert "verdict" not in same  # nobody has said one of either
    html = response.content.decode()
    assert html.index("312") < html.index("318") < html.index("Layer 1") < html.index("things are the same")


def test_the_order_is_the_one_asked_and_each_hangs_once(member_client, pair):
    response = member_client.get(f"{COMPARE}?t=318&t=312,+318")
    assert [one.card.number for one in response.context["shown"]] == ["318", "312"]
    assert response.context["shown"][0].without == "?t=312"


def test_a_private_tile_is_as_absent_as_none(member_client, people, pair, client):
    make.tile("P9", by=people["other"], visibility="mine")
    said = {}
    for number in ("P9", "X9"):
        response = member_client.get(COMPARE, {"t": ["312", "318", number]})
        assert [one.card.number for one in response.context["shown"]] == ["312", "318"]
        said[number] = text_of(response).replace(number, "?")
    assert said["P9"] == said["X9"]
    assert "There is no tile ?." in said["P9"]
    client.force_login(people["technician"])
    assert "P9" in [o.card.number for o in client.get(COMPARE, {"t": ["312", "P9"]}).context["shown"]]


def test_six_at_most_and_two_at_least(member_client, pair):
    numbers = [make.tile(f"N{n}").number for n in range(7)]
    response = member_client.get(COMPARE, {"t": numbers})
    assert [one.card.number for one in response.context["shown"]] == numbers[:6]
    assert "Six at most hang side by side. Left out: N6." in text_of(response)
    assert "Numbers of two to six tiles" in text_of(member_client.get(COMPARE))
    alone = member_client.get(COMPARE, {"t": "312"})
    # Offered is what shares a glaze.
    assert [card.number for card in alone.context["offered"]] == ["318"]
    for odd in ("%00", "x" * 300, " ", "1" * 25):
        assert member_client.get(COMPARE, {"t": odd}).status_code == 200


def test_ticked_on_the_wall_and_led_to_from_the_tile(member_client, pair):
    html = member_client.get(reverse("tiles:wall")).content.decode()
    for number in ("312", "318"):
        assert f'<input type="checkbox" name="t" value="{number}" form="compare"' in html
    assert '<form class="compare-bar" id="compare" method="get" action="/compare/">' in html
    assert 'href="/compare/?t=312"' in member_client.get(pair[0].get_absolute_url()).content.decode()


def test_six_ask_as_many_queries_as_two(member_client):
    def sort(n):
        tile = make.fired_tile(
            number=f"Q{n}",
            body=make.body(),
            layers=[{"fill": make.fill()}, {"glaze": make.glaze()}],
            outcome={"zone": "whole", "surface": "satin", "faults": [{"kind": "crazing"}]},
        )
        return tile.number

    numbers = [sort(n) for n in range(6)]
    few = queries(member_client, f"{COMPARE}?t={numbers[0]}&t={numbers[1]}")
    assert queries(member_client, f"{COMPARE}?{'&'.join(f't={n}' for n in numbers)}") == few
