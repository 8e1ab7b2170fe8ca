"""A bucket turns out to be contaminated: twelve tiles are marked in one press, and one press takes it back."""

import pytest
from playwright.sync_api import expect

from inventory import actions as shelf
from studio.models import Change
from tests import make
from tiles.models import FlagMark

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
TILES = [str(n) for n in range(301, 313)]


@pytest.fixture
def table():
    make.studio()
    manager = make.person("manager", name="Ida Weir")
    fill = make.fill(make.glaze("Weir Ash", colour="#b9b08a"), sg="1.45")
    body = make.body("Weir White", colour="white")
    tiles = [make.tile(number, body=body, layers=[{"fill": fill}]) for number in TILES]
    make.tile("399", body=body, layers=[{"glaze": fill.glaze}])  # nobody knows out of which bucket
    make.fire(make.firing(), *tiles[:3])
    flag = shelf.raise_flag(
        by=make.person(name="Juno Race"), fill=fill, kind="contaminated", note="a blue brush"
    )
    return {"manager": manager, "fill": fill, "flag": flag, "tiles": tiles}


def set_aside(page):
    """The numbers that hang on the wall as set aside."""
    page.goto("/wall/?marked=true&page_size=60")
    return sorted(page.locator("#hung .tile .number").all_inner_texts())


def history(page, record):
    page.goto(f"/history/{record._meta.label_lower}/{record.pk}/")
    return page.locator("main").inner_text()


@pytest.mark.parametrize("javascript", [True, False], ids=["with JavaScript", "without"])
def test_twelve_tiles_are_marked_in_one_step_and_given_back_in_one(table, page_at, log_in, shot, javascript):
    page, flag = page_at(390, javascript=javascript), f"/flags/{table['flag'].pk}/"
    log_in(page, table["manager"])
    page.goto(f"/b/{table['fill'].bucket.code}")
    expect(page.locator(".lid .word")).to_have_text("Do not use")
    page.get_by_role("link", name="contaminated").click()
    expect(page.locator("#touched-tiles")).to_contain_text("It touches 12 tiles")
    expect(page.locator("#touched-tiles")).to_contain_text("1 combination")
    expect(page.locator("#touched-tiles")).to_contain_text("Firing 1")
    shot(page, "flag-before-marking")

    page.get_by_role("button", name="Mark 12 tiles").click()
    expect(page.get_by_text("12 tiles are marked.")).to_be_visible()
    expect(page.get_by_role("button", name="Take back 12 marks")).to_be_visible()
    shot(page, "flag-marked")
    assert set_aside(page) == TILES
    expect(page.locator("#hung .tile").first).to_contain_text("set aside")
    shot(page, "wall-set-aside")
    page.goto("/t/301")
    expect(page.locator("#set-aside")).to_contain_text("Weir Ash was flagged: contaminated")
    shot(page, "tile-set-aside")

    page.goto(flag)
    page.get_by_role("button", name="Take back 12 marks").click()
    expect(page.get_by_text("12 marks are taken back.")).to_be_visible()
    expect(page.get_by_role("button", name="Mark 12 tiles")).to_be_visible()
    assert set_aside(page) == []
    page.goto("/t/301")
    expect(page.locator("#set-aside")).to_have_count(0)

    # Nothing is forgotten: who marked, who took back, tile by tile and for the bucket.
    told = history(page, table["tiles"][0])
    assert "marked for a flag" in told
    assert "took a mark back" in told
    assert told.count("Ida Weir") >= 2
    bucket = history(page, table["fill"])
    for words in (
        "marked the tiles of a flag",
        "took the marks of a flag back",
        "; ".join(TILES),
        "Juno Race",
    ):
        assert words in bucket
    assert FlagMark.objects.filter(flag=table["flag"]).exclude(undone_at=None).count() == 12
    for verb in ("marked for a flag", "took a mark back"):
        rows = Change.objects.filter(verb=verb, actor=table["manager"])
        assert {row.object_text for row in rows} == {f"Tile {number}" for number in TILES}
        assert len({row.batch for row in rows}) == 1
