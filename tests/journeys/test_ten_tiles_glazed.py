"""Ten tiles get the same two layers on a phone, in fewer than forty taps."""

import pytest
from playwright.sync_api import expect

from tests import make
from tiles.actions import reserve_numbers
from tiles.models import Layer, SetInHand, Tile

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
MOST = 40


class Thumb:
    """Counts: every tap, every field typed into, every choice from a list (open it, choose: two)."""

    def __init__(self) -> None:
        self.taps = 0

    def tap(self, target):
        self.taps += 1
        target.click()

    def type(self, target, text):
        self.taps += 1
        target.fill(text)

    def choose(self, target, **option):
        self.taps += 2
        target.select_option(**option)


@pytest.mark.parametrize("javascript", [True, False], ids=["with JavaScript", "without"])
def test_ten_tiles_two_layers(page_at, log_in, shot, javascript):
    make.studio()
    member = make.person("member", name="Mina Race")
    tiles = reserve_numbers(by=member, count=10, body=make.body("Weir Stoneware", colour="buff"))
    ash = make.fill(make.glaze("Weir Ash", colour="#b9b08a"), sg="1.45")
    blue = make.fill(make.glaze("Millrace Blue", colour="#2f4f7a"), sg="1.50")
    page, thumb = page_at(390, javascript=javascript), Thumb()
    log_in(page, member)

    thumb.tap(page.locator("nav.line .log a"))
    thumb.tap(page.get_by_role("link", name="Several tiles, glazed alike"))
    shot(page, "set-choose")
    thumb.type(page.get_by_label("Numbers"), "1-10")
    thumb.tap(page.get_by_role("button", name="Take them in hand"))
    expect(page.get_by_role("heading", name="10 tiles in hand")).to_be_visible()

    thumb.choose(page.get_by_label("Another bucket"), label=f"Weir Ash ({ash.bucket.code})")
    thumb.tap(page.get_by_text("upper part", exact=True))
    thumb.tap(page.get_by_role("button", name="Save on 10 tiles"))
    expect(page.locator("#layers .stack")).to_contain_text("1 Weir Ash")

    # The second bucket's lid is scanned.
    thumb.taps += 1
    page.goto(f"/b/{blue.bucket.code}")
    thumb.tap(page.get_by_role("link", name="Next coat on 10 tiles"))
    thumb.tap(page.get_by_text("lower part", exact=True))
    thumb.tap(page.get_by_role("button", name="Save on 10 tiles"))
    expect(page.locator("#layers .stack")).to_contain_text("2 Millrace Blue")
    shot(page, "set")
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    thumb.tap(page.get_by_role("button", name="Done"))
    expect(page.get_by_text("The set is laid down.")).to_be_visible()
    shot(page, "run")

    assert thumb.taps < MOST
    put_on = Layer.objects.order_by("tile", "position").values_list("tile", "fill", "area")
    assert sorted(put_on) == sorted(
        row for tile in tiles for row in [(tile.pk, ash.pk, "upper"), (tile.pk, blue.pk, "lower")]
    )
    assert set(Tile.objects.values_list("state", flat=True)) == {"glazed"}
    assert not SetInHand.objects.exists()
