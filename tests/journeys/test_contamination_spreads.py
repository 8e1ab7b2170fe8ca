"""What was wrong in one bucket is wrong two pours on, until the first flag was a mistake."""

from decimal import Decimal

import pytest
from playwright.sync_api import expect

from inventory import actions as shelf
from tests import make

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def chain():
    """Three buckets of one glaze: the first poured into the second, the second into the third; a tile out of that."""
    make.studio()
    manager = make.person("manager", name="Ida Weir")
    glaze = make.glaze("Weir Ash", colour="#b9b08a")
    fills = [make.fill(glaze, level="full", sg="1.45") for _i in range(3)]
    for source, target in zip(fills, fills[1:], strict=False):
        shelf.transfer(by=manager, source=source, target=target, volume_ml=Decimal(500))
    make.tile("312", layers=[{"fill": fills[2]}])
    return {"manager": manager, "lids": [f"/b/{f.bucket.code}" for f in fills]}


def clear(page, lid, outcome, note):
    page.goto(lid)
    page.get_by_role("link", name="Clear", exact=True).click()
    expect(page.locator("#reached li")).to_have_count(2)
    page.get_by_text(outcome).click()
    page.get_by_label("What was done, or how you know").fill(note)
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(page.get_by_text("The flag is cleared.")).to_be_visible()


def flag(page, lid, note):
    page.goto(lid)
    page.get_by_role("link", name="Flag", exact=True).click()
    page.wait_for_url("**/flag")  # loaded, so that the kind that is chosen is asked about
    page.get_by_text("contaminated", exact=True).click()
    page.get_by_label("What was seen").fill(note)
    expect(page.locator("#reached li")).to_have_count(2)
    page.get_by_role("button", name="Flag it").click()
    expect(page.get_by_text("It is in force at once")).to_be_visible()


def lid_says(page, lid, words):
    page.goto(lid)
    expect(page.locator(".lid .word")).to_have_text(words)


def test_a_flag_follows_two_pours_and_only_mistaken_lifts_it(chain, page_at, log_in, shot):
    first, _second, third = chain["lids"]
    page, stranger = page_at(390), page_at(390)
    lid_says(stranger, third, "Use it")
    log_in(page, chain["manager"])

    # What it touches follows the day and the kind that are chosen, before anything is written.
    page.goto(f"{first}/flag")
    page.get_by_text("dried out", exact=True).click()
    expect(page.locator("#reached li")).to_have_count(0)
    page.get_by_text("contaminated", exact=True).click()
    expect(page.locator("#reached li")).to_have_count(2)
    expect(page.locator("#would-touch")).to_contain_text("It would touch 1 tile")
    page.get_by_label("Since").fill("2099-01-01")
    page.get_by_label("Since").blur()
    expect(page.locator("#reached li")).to_have_count(0)
    shot(page, "flag-would-touch")
    lid_says(stranger, third, "Use it")

    flag(page, first, "blue grit at the bottom")
    lid_says(stranger, third, "Do not use")  # nobody is logged in there
    expect(stranger.locator("body")).not_to_contain_text("Ida Weir")
    page.goto(third)
    expect(page.locator("main")).to_contain_text("Poured in from bucket")
    shot(page, "bucket-carried-flag")

    clear(page, first, "Put right. It was so until a day", "sieved at 80")
    expect(page.locator("main")).to_contain_text("Nothing is lifted, because it was so until then.")
    shot(page, "flag-put-right")
    lid_says(stranger, first, "Use it")
    lid_says(stranger, third, "Do not use")


def test_mistaken_lifts_every_bucket_and_the_tile(chain, page_at, log_in, shot):
    first, _second, third = chain["lids"]
    page, stranger = page_at(390), page_at(390)
    log_in(page, chain["manager"])
    flag(page, first, "blue grit at the bottom")
    lid_says(stranger, third, "Do not use")
    clear(page, first, "Mistaken. It never was so", "it was the shadow of the lid")
    expect(page.locator("main")).to_contain_text("1 tile was lifted")
    shot(page, "flag-mistaken")
    for lid in chain["lids"]:
        lid_says(stranger, lid, "Use it")


def test_the_shelf_shows_lids_first_and_nothing_beyond_the_edge(chain, page_at, log_in, shot):
    page = page_at(390)
    log_in(page, chain["manager"])
    page.goto("/shelf/")
    expect(page.locator(".lid")).to_have_count(3)
    expect(page.locator("#asked")).to_be_hidden()
    top = page.locator(".lid").first.bounding_box()["y"]
    assert top < 844 * 0.6, "the first lid is below the first screen's middle"
    page.get_by_text("Narrow it down").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.locator("#asked label", has_text="ask first").click()
    expect(page.locator(".lid")).to_have_count(0)
    expect(page.get_by_text("No bucket is like that.")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    # Last: a screenshot leaves an empty style on every input, and a swap after it would be refused its copy.
    page.goto("/shelf/")
    shot(page, "shelf")
    page.get_by_text("Narrow it down").click()
    shot(page, "shelf-filters")
