"""What must not be overlooked stands at the top of a page, or is one tap from there."""

import pytest
from django.urls import reverse

from inventory.actions import raise_flag
from tests import make


@pytest.fixture
def flag(db):
    fill = make.fill()
    make.fired_tile(
        number="T-1",
        layers=[{"glaze": fill.glaze, "fill": fill}],
        outcome={"zone": "whole", "surface": "glossy"},
    )
    return raise_flag(by=make.manager(), fill=fill, kind="contaminated")


def html(client, person, address):
    client.force_login(person)
    return client.get(address).content.decode()


def test_a_tile_and_its_combination_say_first_what_is_known_of_food(client, people, flag):
    tile = flag.fill.layers.get().tile
    combination = tile.zones.first().combination
    for address in (tile.get_absolute_url(), reverse("tiles:combination", args=[combination.pk])):
        top, _food, _record = html(client, people["member"], address).partition('id="food"')
        assert 'href="#food">Food: Keep it away from food' in top
        assert top.index('href="#food"') < top.index('class="stack"')


def test_from_the_bucket_one_tap_leads_to_what_a_flag_touches(client, people, flag):
    way = f'href="{flag.get_absolute_url()}#touches"'
    assert way in html(client, people["member"], flag.fill.bucket.get_absolute_url())
    own = html(client, people["member"], flag.get_absolute_url())
    assert way not in own
    assert 'id="touches"' in own


def test_after_a_mistake_what_it_touches_makes_room_for_what_is_wrong(client, people, flag):
    address = f"{flag.get_absolute_url()}clear/"
    asked = html(client, people["technician"], address)
    assert '<details class="folds" open>' in asked
    refused = client.post(address, {}).content.decode()
    assert "One thing needs another look" in refused
    assert '<details class="folds">' in refused
