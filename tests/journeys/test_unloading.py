"""A kiln is unloaded on a phone: ten tiles in under forty taps, a page that is closed, two members at once."""

import re

import pytest
from playwright.sync_api import expect

from tests import make, photo_files
from tiles.models import LookDraft, Outcome

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

MOST_TAPS = 40


@pytest.fixture
def kiln_load():
    """Ten tiles, the fifth one dipped from both ends."""
    make.studio()
    members = [make.person("member", name=name) for name in ("Mina Race", "Ilva Weir")]
    ash, blue = make.glaze("Weir Ash", colour="#b9b08a"), make.glaze("Millrace Blue", colour="#2f4f7a")
    halves = [{"glaze": ash, "area": "upper"}, {"glaze": blue, "area": "lower"}]
    tiles = [
        make.tile(
            str(301 + n),
            by=members[0],
            body=make.body(colour="buff"),
            layers=halves if n == 4 else [{"glaze": blue if n % 2 else ash}],
        )
        for n in range(10)
    ]
    return {"members": members, "tiles": tiles, "firing": make.fire(make.firing(), *tiles)}


class Thumb:
    """Counts every tap."""

    def __init__(self, page):
        self.page, self.taps = page, 0

    def tap(self, locator):
        self.taps += 1
        locator.tap()

    def chip(self, words):
        self.tap(self.page.locator("#look .chip").get_by_text(words, exact=True).first)

    def press(self, words):
        self.tap(self.page.get_by_role("button", name=words, exact=True))


def heading(page, words):
    expect(page.get_by_role("heading", level=1, name=words)).to_be_visible()
    page.wait_for_load_state()  # so that the next tap is kept


def kept_with(page, tapped):
    """Waits until the draft that holds `tapped` is kept: each tap sends all of the form, and a later one may wait."""
    return page.expect_response(lambda r: "/draft/" in r.url and tapped in (r.request.post_data or ""))


def test_ten_tiles_in_under_forty_taps(kiln_load, page_at, log_in, shot, tmp_path):
    page = page_at(390)
    log_in(page, kiln_load["members"][0])
    page.goto(f"/firings/{kiln_load['firing'].number}/")
    thumb = Thumb(page)
    thumb.tap(page.get_by_role("link", name="Look at the tiles"))

    for n in range(301, 305):
        heading(page, f"Tile {n}")
        thumb.chip("satin" if n % 2 else "glossy")
        thumb.chip("stayed")
        if n == 302:
            taken = tmp_path / "tile.jpg"
            taken.write_bytes(photo_files.jpeg((600, 1000)))
            thumb.taps += 1  # the camera's button; what it opens is the phone's own
            page.locator("#camera input[type=file]").set_input_files(taken)
            expect(page.locator("#camera img.big")).to_be_visible()
            shot(page, "unload")
        thumb.press("Again")

    # In the middle of the fifth the phone sleeps and the page is gone.
    heading(page, "Tile 305")
    thumb.chip("crazing")
    thumb.tap(
        page.locator("#look .fault", has_text="crazing").first.locator(".where .chip", has_text="overlap")
    )
    with kept_with(page, "surface=matte"):
        thumb.chip("matte")
    context = page.context
    page.close()
    page = thumb.page = context.new_page()
    page.goto(f"/firings/{kiln_load['firing'].number}/unload/")
    heading(page, "Tile 305")
    expect(page.get_by_label("matte")).to_be_checked()
    expect(page.locator("#id_fault_crazing")).to_be_checked()
    expect(page.locator("#look .where").get_by_label("overlap").first).to_be_checked()
    shot(page, "unload-again")
    thumb.press("With a change")

    for n in range(306, 311):
        heading(page, f"Tile {n}")
        thumb.chip("glossy")
        thumb.chip("stayed")
        thumb.press("Not again" if n == 310 else "Again")
    expect(page.get_by_text("All its tiles are looked at.")).to_be_visible()
    shot(page, "unloaded")

    assert thumb.taps < MOST_TAPS
    looks = {look.tile.number: look for look in Outcome.objects.select_related("tile")}
    assert sorted(looks) == [str(n) for n in range(301, 311)]
    fifth = looks["305"]
    assert (fifth.surface, fifth.verdict) == ("matte", "change")
    assert [(fault.kind, fault.where) for fault in fifth.faults.all()] == [("crazing", "overlap")]
    assert looks["302"].photos.count() == 1
    assert {looks[str(n)].movement_mm for n in (301, 310)} == {0}
    assert not LookDraft.objects.exists()
    assert page.evaluate("document.documentElement.scrollWidth") == 390


def test_two_members_at_one_kiln(kiln_load, page_at, log_in, shot):
    number = kiln_load["firing"].number
    mina, ilva = page_at(390), page_at(390)
    for page, person in zip((mina, ilva), kiln_load["members"], strict=True):
        log_in(page, person)
        page.goto(f"/firings/{number}/unload/")
        heading(page, "Tile 301")
        Thumb(page).chip("satin" if page is mina else "matte")
    Thumb(ilva).press("Again")
    heading(ilva, "Tile 302")

    Thumb(mina).press("Not again")
    expect(mina.get_by_role("alert")).to_contain_text("Ilva Weir looked at this")
    expect(mina.get_by_label("satin")).to_be_checked()
    shot(mina, "unload-two")
    assert Outcome.objects.count() == 1
    Thumb(mina).press("Keep mine too")
    heading(mina, "Tile 302")
    kept = Outcome.objects.filter(tile__number="301").values_list("by__name", "surface", "verdict")
    assert set(kept) == {("Ilva Weir", "matte", "again"), ("Mina Race", "satin", "not_again")}


def test_without_a_script(kiln_load, page_at, log_in):
    page = page_at(390, javascript=False)
    log_in(page, kiln_load["members"][0])
    page.goto(f"/firings/{kiln_load['firing'].number}/unload/305/")
    page.get_by_text("Only a part of it").click()
    # The drawn front takes the tap: the middle is where the two glazes overlap.
    page.locator(".region.at-middle").click()
    expect(page.get_by_label(re.compile("Where they overlap"))).to_be_checked()
    page.locator("#look .chip").get_by_text("glossy", exact=True).first.click()
    page.get_by_role("button", name="Again", exact=True).click()
    heading(page, "Tile 306")
    look = Outcome.objects.get()
    assert (look.zone, look.surface, look.combination.parts.count()) == ("overlap", "glossy", 2)
