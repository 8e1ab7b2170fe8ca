"""A manager flags a bucket on a phone; the lid and the tiles say so at once, and only *mistaken* lifts it."""

import pytest
from playwright.sync_api import expect

from tests import make

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def table():
    make.studio()
    manager = make.person("manager", name="Ida Weir")
    fill = make.fill(make.glaze("Weir Ash", colour="#b9b08a"), sg="1.45")
    tile = make.tile("312", body=make.body("Weir White", colour="white"), layers=[{"fill": fill}])
    return {"manager": manager, "fill": fill, "tile": tile, "lid": f"/b/{fill.bucket.code}"}


def flag(page, lid, note):
    page.goto(lid)
    page.get_by_role("link", name="Flag", exact=True).click()
    page.get_by_text("contaminated", exact=True).click()
    page.get_by_label("What was seen").fill(note)
    page.get_by_role("button", name="Flag it").click()
    expect(page.get_by_text("It is in force at once")).to_be_visible()


def clear(page, lid, outcome, note):
    page.goto(lid)
    page.get_by_role("link", name="Clear", exact=True).click()
    page.get_by_text(outcome).click()
    page.get_by_label("What was done, or how you know").fill(note)
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(page.get_by_text("The flag is cleared.")).to_be_visible()


def lid_says(page, lid, words):
    page.goto(lid)
    expect(page.locator(".lid .word")).to_have_text(words)


def test_a_flag_reaches_the_lid_the_tile_and_the_wall_until_it_was_a_mistake(table, page_at, log_in, shot):
    lid, tile = table["lid"], "/t/312"
    page, stranger = page_at(390), page_at(390)
    lid_says(stranger, lid, "Use it")
    log_in(page, table["manager"])
    page.goto(tile)
    expect(page.locator("#touched")).to_have_count(0)

    flag(page, lid, "a brush was left in it")
    expect(page.locator(".lid .word")).to_have_text("Do not use")
    shot(page, "bucket-flagged")
    lid_says(stranger, lid, "Do not use")  # nobody is logged in there
    expect(stranger.locator("body")).not_to_contain_text("Ida Weir")
    expect(stranger.locator("body")).not_to_contain_text("a brush was left in it")
    shot(stranger, "bucket-flagged-visitor")
    page.goto(tile)
    expect(page.locator("#touched")).to_contain_text("Weir Ash")
    expect(page.locator("#touched")).to_contain_text("contaminated")
    shot(page, "tile-touched")
    page.goto("/wall/?standing=touched")
    expect(page.locator("#hung .tile")).to_contain_text("touched by a flag")
    page.goto(lid)
    page.get_by_role("link", name="contaminated").click()
    expect(page.locator("#touched-tiles")).to_contain_text("It touches 1 tile")
    page.get_by_role("link", name="312", exact=True).click()
    page.wait_for_url("**/t/312")

    clear(page, lid, "Mistaken. It never was so", "it was the shadow of the lid")
    lid_says(page, lid, "Use it")
    lid_says(stranger, lid, "Use it")
    page.goto(tile)
    expect(page.locator("h1")).to_have_text("Tile 312")
    expect(page.locator("#touched")).to_have_count(0)
    page.goto("/wall/?standing=touched")
    expect(page.locator("#hung .tile")).to_have_count(0)
    shot(page, "wall-lifted")

    flag(page, lid, "crumbs of another glaze")
    clear(page, lid, "Put right. It was so until a day", "sieved twice")
    lid_says(stranger, lid, "Use it")
    page.goto(tile)
    expect(page.locator("#touched")).to_contain_text("contaminated")
    shot(page, "tile-stays-touched")
