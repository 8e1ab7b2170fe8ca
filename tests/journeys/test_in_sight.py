"""On a phone what was asked for comes into sight: nothing waits a screen away without a word."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from inventory.actions import raise_flag
from tests import make
from tests.tiles.curve_logs import logged

HEIGHT_ABOVE_BAR = 844 - 60

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_the_buttons_go_on_from_the_moment_that_was_tapped(page_at, log_in):
    make.studio()
    firing = logged(make.firing(plan_from=make.schedule()))
    page = page_at(390)
    log_in(page, make.person())
    page.goto(reverse("tiles:firing-curve", args=[firing.number]))
    plot = page.get_by_role("slider").bounding_box()
    page.touchscreen.tap(plot["x"] + plot["width"] / 2, plot["y"] + plot["height"] / 2)
    readout = page.locator("#readout")
    expect(readout).to_have_text(re.compile("^8:38"))
    page.get_by_role("link", name="Later").tap()
    expect(readout).to_have_text(re.compile("^8:48"))
    page.get_by_role("link", name="Earlier").tap()
    page.get_by_role("link", name="Earlier").tap()
    expect(readout).to_have_text(re.compile("^8:27"))
    page.goto(reverse("tiles:firing-curve", args=[firing.number]) + "?at=302")
    page.get_by_role("link", name="Later").tap()
    expect(readout).to_have_text(re.compile(r"^5:1\d"))


def test_what_there_is_to_say_is_one_tap_from_the_save_button(page_at, log_in):
    make.studio()
    maker = make.person()
    tile, fill = make.tile(by=maker), make.fill()
    raise_flag(by=maker, fill=fill, kind="contaminated", note="a brush was left in it")
    page = page_at(390)
    log_in(page, maker)
    page.goto(f"{reverse('tiles:log', args=[tile.number])}?fill={fill.pk}")
    way = page.get_by_role("link", name="Read what there is to say")
    assert not way.is_visible()
    page.get_by_text("foot", exact=True).tap()
    finding = page.locator("#findings .finding").first
    finding.wait_for()
    bar = page.locator("#next .actions").bounding_box()
    assert finding.bounding_box()["y"] + 44 < 0 or finding.bounding_box()["y"] > bar["y"], (
        "it is in sight already"
    )
    way.tap()
    expect(finding).to_be_in_viewport()
    assert 0 <= finding.bounding_box()["y"] < bar["y"]


def test_the_answer_about_a_planned_pot_is_where_the_page_comes_back(page_at, log_in):
    make.studio()
    fill = make.fill()
    page = page_at(390)
    log_in(page, make.person())
    page.goto(reverse("tiles:pot"))
    ask = page.get_by_role("button", name="What is known of it?")
    ask.tap()
    assert in_sight(page, page.get_by_text("No layer is chosen yet."))
    page.get_by_label("Glaze").select_option(f"fill-{fill.pk}")
    page.get_by_role("button", name="Add a layer").tap()
    page.wait_for_url("**#layers")
    ask.tap()
    page.wait_for_url("**#answer")
    assert in_sight(page, page.locator("#answer .stack"))
    page.get_by_label("Fired to cone").fill("six")
    ask.tap()
    assert in_sight(page, page.get_by_role("alert").get_by_role("link", name="Fired to cone"))


def test_large_letters_stay_on_a_phone(page_at, log_in):
    make.studio()
    fill = make.fill(make.glaze("Copperbrook Matte"), sg="1.48")
    tile = make.fired_tile(layers=[{"glaze": fill.glaze, "fill": fill}], outcome={"surface": "matte"})
    page = page_at(390)
    log_in(page, make.person())
    pot = f"{reverse('tiles:pot')}?layer=fill-{fill.pk}&area=whole"
    for address in (pot, tile.get_absolute_url(), fill.bucket.get_absolute_url(), "/wall/"):
        page.goto(address)
        page.evaluate("document.documentElement.style.fontSize = '150%'")
        assert page.evaluate("document.documentElement.scrollWidth") == 390, address


def in_sight(page, what) -> bool:
    what.wait_for()
    page.wait_for_load_state()
    box = what.bounding_box()
    return box["y"] >= 0 and box["y"] + min(box["height"], 100) <= HEIGHT_ABOVE_BAR
