"""A member at the glaze table, a phone in a wet hand: two layers and a photo, then how it came out."""

import re

import pytest
from playwright.sync_api import expect

from inventory import actions as shelf
from tests import make, photo_files
from tiles.models import Layer, Photo, Tile

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def table():
    """Two buckets, one of them contaminated, a clay body and a firing that is being loaded."""
    make.studio()
    member = make.person("member", name="Mina Race")
    ash, blue = make.glaze("Weir Ash", colour="#b9b08a"), make.glaze("Millrace Blue", colour="#2f4f7a")
    good, bad = make.fill(ash, sg="1.45"), make.fill(blue, sg="1.50")
    shelf.raise_flag(by=member, fill=bad, kind="contaminated", note="a brush was left in it")
    return {
        "member": member,
        "good": good,
        "bad": bad,
        "body": make.body("Weir Stoneware", colour="buff"),
        "firing": make.firing(make.kiln("Kiln by the door")),
        "hot": make.firing(make.kiln("Small kiln", highest="10"), target="9"),
    }


@pytest.mark.parametrize("javascript", [True, False], ids=["with JavaScript", "without"])
def test_two_layers_and_a_photo(table, page_at, log_in, shot, tmp_path, javascript):
    page = page_at(390, javascript=javascript)
    log_in(page, table["member"])

    page.locator("nav.line .log a").click()
    page.get_by_label("What is written on it?").fill("312")
    page.get_by_role("button", name="Find it").click()
    expect(page.get_by_label("Number")).to_have_value("312")  # kept, and offered to be added
    page.get_by_label("Clay body").select_option(label="Weir Stoneware")
    page.get_by_role("button", name="Add it and log").click()
    expect(page.get_by_role("heading", name="Tile 312")).to_be_visible()

    # The first coat, out of any bucket of the shelf.
    page.get_by_label("Another bucket").select_option(label=f"Weir Ash ({table['good'].bucket.code})")
    page.get_by_text("brushed", exact=True).click()
    page.get_by_label("Coats").fill("2")
    page.get_by_role("button", name="Save layer").click()
    expect(page.locator("#layers .stack")).to_contain_text("1 Weir Ash")
    expect(page.locator("#layers .stack")).to_contain_text("two coats brushed")

    # A bucket's lid is scanned: it offers the next coat of the tile in hand, and says that it should not be used.
    page.goto(f"/b/{table['bad'].bucket.code}")
    page.get_by_role("link", name="Next coat on tile 312").click()
    chip = page.locator("#next .chip", has_text="Millrace Blue")
    expect(chip).to_contain_text("Do not use")
    expect(chip.locator("input")).to_be_checked()
    page.wait_for_load_state()  # so that the next tap is checked
    page.get_by_text("upper part", exact=True).click()
    if not javascript:
        page.get_by_role("button", name="Check").first.click()
    expect(page.locator("#findings .finding.stop")).to_contain_text("Something else has got into it")
    shot(page, "log-stop")
    assert Layer.objects.count() == 1  # said, not saved
    # What was read while it was typed needs no second asking.
    page.get_by_role("button", name="Save layer" if javascript else "Save it anyway").click()
    expect(page.locator("#layers .stack")).to_contain_text("2 Millrace Blue")
    assert [(la.glaze.name, la.method, la.coats, la.area, la.use_then) for la in Layer.objects.all()] == [
        ("Weir Ash", "brush", 2, "whole", "use"),
        ("Millrace Blue", "dip", 1, "upper", "do_not_use"),
    ]

    # A firing that the clay cannot stand is refused; the right one takes it.
    page.get_by_label("Firing").select_option(str(table["hot"].pk))
    page.get_by_role("button", name="Put it in").click()
    expect(page.locator("#firing")).to_contain_text("the clay body is made for")
    page.get_by_label("Firing").select_option(str(table["firing"].pk))
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("link", name="waits in Firing 1")).to_be_visible()

    taken = tmp_path / "tile 312.jpg"
    taken.write_bytes(photo_files.jpeg(orientation=6, gps=True))
    page.locator("#photo input[name=camera]").set_input_files(taken)
    page.get_by_role("button", name="Keep the photo").click()
    expect(page.get_by_text("The photo is kept.")).to_be_visible()
    shot(page, "log-two-layers")

    page.get_by_role("link", name="Done").click()
    face = page.locator(".one-tile img")
    # Upright, once it has come.
    assert face.evaluate(
        "async (img) => { await img.decode(); return img.naturalHeight > img.naturalWidth; }"
    )
    expect(page.locator("#touched")).to_contain_text("contaminated")
    expect(page.locator("#food")).to_contain_text("Keep it away from food")
    shot(page, "tile")
    assert Photo.objects.get().by == table["member"]
    width = page.evaluate("document.documentElement.scrollWidth")
    assert width == 390  # nothing hangs over the edge of the phone


def test_how_it_came_out(table, page_at, log_in, shot, tmp_path):
    tile = make.fired_tile(
        number="A27",
        by=table["member"],
        layers=[{"fill": table["good"], "area": "upper"}, {"glaze": table["bad"].glaze, "area": "lower"}],
    )
    page = page_at(390)
    log_in(page, table["member"])
    page.goto("/t/a27")
    expect(page).to_have_url(re.compile(r"/t/A27$"))
    page.get_by_role("link", name="Say how it came out").click()
    page.get_by_text("Where they overlap").click()
    page.get_by_text("satin", exact=True).click()
    page.get_by_label("Moved down (mm)").fill("2,5")
    where = page.get_by_label("crazing: where")
    expect(where).to_be_hidden()
    page.get_by_text("crazing", exact=True).click()
    where.fill("rim")
    page.get_by_label("Colour in words").fill("bluish, breaking brown")

    cut = tmp_path / "cut off.jpg"
    cut.write_bytes(photo_files.bad("cut-half.jpg"))
    page.locator("[name=photo]").set_input_files(cut)
    page.get_by_role("button", name="Keep this look").click()
    expect(page.get_by_role("alert")).to_contain_text(
        "Nothing is saved yet, because of the photo “cut off.jpg”."
    )
    expect(page.get_by_label("Colour in words")).to_have_value("bluish, breaking brown")
    expect(where).to_have_value("rim")
    shot(page, "look-bad-photo")
    assert not tile.outcomes.exists()

    page.get_by_role("button", name="Keep this look").click()
    expect(page.locator("#looks")).to_contain_text("crazing (rim)")
    expect(page.locator("#looks")).to_contain_text("Moved down 2.5 mm.")
    look = Tile.objects.get(pk=tile.pk).outcomes.get()
    assert (look.zone, look.surface, look.by) == ("overlap", "satin", table["member"])
