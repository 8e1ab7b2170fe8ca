"""A potter before the wall: from the open wall to satin at cone 6 in two presses, at a desk and without JavaScript."""

import re

import pytest
from playwright.sync_api import expect

from tests import make
from tiles import actions

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def proved_tile(number, cone, body, surface, colour, **look):
    layers = [{"glaze": make.glaze(f"Weir {number}", colour=colour)}]
    tile = make.tile(number, body=body, layers=layers)
    witness = [{"cone": make.cone(cone), "bend_degrees": 92}]
    make.fire(make.firing(make.kiln(highest="12"), target=cone), tile, witness=witness)
    actions.record_outcome(by=tile.maker, tile=tile, zone="whole", surface=surface, **look)
    return tile


@pytest.fixture
def wall():
    make.studio()
    member = make.person("member", name="Mina Race")
    white = make.body("Weir White", low="5", high="10", colour="white")
    proved_tile("101", "6", white, "satin", "#7f95a8", faults=[{"kind": "crazing", "where": "inside"}])
    proved_tile("102", "6", white, "satin", "#a8b89a")
    proved_tile("201", "6", white, "glossy", "#3c2416")
    proved_tile("301", "10", white, "satin", "#d8a27a")
    proved_tile("302", "5", white, "satin", "#c9c2b0")
    make.tile("401", body=white)
    return {"member": member}


def numbers(page):
    return page.locator("#hung .tile .number")


def test_two_presses_at_a_desk(wall, page_at, log_in, shot):
    page = page_at(1280)
    log_in(page, wall["member"])
    page.get_by_role("link", name="Wall", exact=True).click()
    page.wait_for_url("**/wall/")  # loaded: a box that is ticked before htmx has come asks for nothing
    expect(page.locator("#hung [role=status]")).to_have_text("6 tiles")
    expect(page.locator(".rail h2")).to_contain_text(
        ["cone 10 · about 1285 °C", "cone 6 · about 1222 °C", "cone 5 · about 1186 °C", "not fired yet"]
    )
    shot(page, "wall")

    # A count joins the word a moment later, so the label is found by the word it begins with.
    page.get_by_role("group", name="Surface").locator("label", has_text=re.compile(r"^\s*satin\b")).click()
    expect(numbers(page)).to_have_text(["301", "102", "101", "302"])
    page.get_by_role("link", name=re.compile("^cone 6 ")).click()  # the second press

    expect(numbers(page)).to_have_text(["102", "101"])
    expect(page.locator(".asked")).to_contain_text("satin")
    assert "surface=satin" in page.url
    assert "cone_min=6" in page.url
    expect(page.get_by_label("From cone")).to_have_value("6")
    expect(page.locator(".tile", has_text="101").get_by_text("crazing: inside")).to_be_hidden()
    page.locator(".tile", has_text="101").locator("summary").click()
    expect(page.get_by_text("crazing: inside")).to_be_visible()
    shot(page, "wall-satin-cone-6")
    page.emulate_media(color_scheme="dark")
    shot(page, "wall-satin-cone-6-dark")

    # The way back leads to what was seen before, with its filter still ticked.
    page.go_back()
    expect(numbers(page)).to_have_text(["301", "102", "101", "302"])
    expect(page.get_by_role("checkbox", name=re.compile(r"^satin\b"))).to_be_checked()  # and its count


def test_one_sentence_in_the_search_is_enough(wall, page_at, log_in):
    page = page_at(1280)
    log_in(page, wall["member"])
    page.goto("/wall/")
    page.keyboard.press("/")
    expect(page.get_by_label("Search the wall in words")).to_be_focused()
    page.keyboard.type("satin cone 6")
    page.keyboard.press("Enter")
    expect(numbers(page)).to_have_text(["102", "101"])
    # What was understood is taken off word by word.
    page.get_by_role("link", name=re.compile("surface satin")).click()
    expect(numbers(page)).to_have_text(["201", "102", "101"])
    page.get_by_role("link", name=re.compile("cone 6 .*take this filter away")).click()
    expect(numbers(page)).to_have_count(6)


def test_two_interactions_on_a_phone(wall, page_at, log_in, shot):
    page = page_at(390)
    log_in(page, wall["member"])
    page.get_by_role("link", name="Wall", exact=True).click()  # the first
    page.wait_for_url("**/wall/")
    expect(page.get_by_label("Opacity")).to_be_hidden()
    # Tiles are in sight at once, above the line of words at the bottom.
    assert page.locator(".tile").first.bounding_box()["y"] < 500
    assert page.locator(".tile").first.is_visible()
    page.get_by_label("Search the wall in words").fill("satin cone 6")
    page.keyboard.press("Enter")  # the second
    expect(numbers(page)).to_have_text(["102", "101"])
    expect(page.locator(".asked")).to_contain_text("surface satin")
    # Beside each answer stands how many hang once it is chosen too.
    page.get_by_text("More filters").click()
    page.get_by_text("How it came out").click()
    expect(page.locator("#n-without_fault-crazing")).to_have_text("1")
    expect(page.locator("#id_label option").last).to_contain_text("· 2")
    # Counts change words only, never what is chosen.
    assert page.locator("#asks select").evaluate_all("all => all.map(one => one.value).join('')") == ""
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    shot(page, "wall-filters")


def test_keys_walk_the_tiles_and_ticked_ones_hang_side_by_side(wall, page_at, log_in, shot):
    page = page_at(1280)
    log_in(page, wall["member"])
    page.goto("/wall/?surface=satin")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(page.locator(".tile a.face").nth(1)).to_be_focused()
    page.keyboard.press("?")
    expect(page.locator("#keys")).to_be_visible()
    page.keyboard.press("Escape")

    bar = page.get_by_role("button", name="Compare")
    expect(bar).to_be_hidden()
    page.get_by_label("compare tile 301").check()
    page.get_by_label("compare tile 101").check()
    expect(bar).to_be_visible()
    shot(page, "wall-ticked")
    bar.click()
    page.wait_for_url("**/compare/?t=301&t=101")
    expect(page.locator(".compare thead .num")).to_have_text(["301", "101"])
    expect(page.locator(".compare tbody")).to_contain_text(["Layer 1"])
    page.get_by_text("things are the same").click()
    expect(page.locator("dl.facts").first).to_contain_text("Weir White")
    shot(page, "compare")
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    shot(page, "compare")


def test_on_a_phone_without_javascript(wall, page_at, log_in, shot):
    page = page_at(390, javascript=False)
    log_in(page, wall["member"])
    page.goto("/wall/")
    expect(page.get_by_label("From cone")).to_be_hidden()  # folded, so that tiles come first
    page.get_by_label("Search the wall in words").fill("satin")
    page.get_by_role("button", name="Show").first.click()
    page.get_by_role("link", name=re.compile("^cone 6 ")).click()
    expect(numbers(page)).to_have_text(["102", "101"])
    shot(page, "wall-without-javascript")
    page.get_by_label("compare tile 102").check()
    page.get_by_label("compare tile 101").check()
    page.get_by_role("button", name="Compare").click()
    expect(page.locator(".compare thead .num")).to_have_text(["102", "101"])
