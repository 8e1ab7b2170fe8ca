"""A tile's own page: what was done, what it saw, what touches it, and no verdict about food."""

import re
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from studio.models import Change
from tests import make, photo_files
from tests.tiles.counting import same_for_more
from tiles.actions import add_layer, add_photo, change_tile, record_outcome


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


def text_of(answer):
    """The words of the page, without its tags."""
    return " ".join(re.sub(r"<[^>]+>", " ", answer.content.decode()).split())


def test_any_case_of_the_number_leads_to_the_one_address(mine, member):
    make.tile("A12", by=member)
    answer = mine.get("/t/a12")
    assert (answer.status_code, answer["Location"]) == (301, "/t/A12")
    assert mine.get("/t/A12").status_code == 200
    assert mine.get("/t/A13").status_code == 404


def test_it_says_what_was_done_and_how_it_came_out(mine, member):
    layers = [{"glaze": make.glaze("Weir Ash"), "coats": 2, "method": "brush", "area": "upper"}]
    tile = make.fired_tile(by=member, layers=layers, body=make.body("Weir Stoneware"))
    record_outcome(by=member, tile=tile, surface="satin", movement_mm=0, verdict="change")
    record_outcome(by=member, tile=tile, faults=[{"kind": "crazing", "where": "rim"}])
    words = text_of(mine.get(tile.get_absolute_url()))
    assert "1 Weir Ash two coats brushed, upper part" in words
    assert "Cone 6 (1222 °C), planned only" in words
    assert "Again with a change. Satin." in words
    assert "Moved down 0 mm." in words
    assert words.index("Again with a change. Satin.") < words.index("crazing (rim)")  # as it happened


def test_a_flag_is_told_on_the_tile_with_how_it_ended(mine, member, technician):
    fill = make.fill(make.glaze("Weir Ash"))
    tile = make.tile(by=member, layers=[{"fill": fill}])
    put_on = tile.layers.get().applied_at
    shelf.raise_flag(by=member, fill=fill, kind="dried_out", since=put_on + timedelta(seconds=5))
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=put_on - timedelta(days=3))
    words = text_of(mine.get(tile.get_absolute_url()))
    day = timezone.localtime(flag.since).strftime("%-d %B %Y")
    layer = f"Layer 1, Weir Ash out of bucket {fill.bucket.code}"
    assert f"{layer}: flagged “contaminated” since {day}; still open." in words
    assert "dried out" not in words  # it was not so yet
    shelf.clear_flag(by=technician, flag=flag, outcome="emptied", note="thrown away")
    assert "; emptied." in text_of(mine.get(tile.get_absolute_url()))


def test_the_flag_names_the_tiles_that_it_touches(mine, member, people):
    fill = make.fill()
    layers = [{"fill": fill}, {"glaze": make.glaze("Lock Green")}]
    make.tile("touched-1", by=member, layers=layers)
    make.tile("hidden-1", by=people["other"], layers=[{"fill": fill}], visibility="mine")
    late = [{"fill": fill, "applied_at": timezone.now() - timedelta(days=9)}]
    make.tile("earlier-1", by=member, layers=late)
    flag = shelf.raise_flag(
        by=member, fill=fill, kind="contaminated", since=timezone.now() - timedelta(days=2)
    )
    words = text_of(mine.get(reverse("inventory:flag", args=[flag.pk])))
    assert "It touches 1 tile:" in words
    assert "touched-1" in words
    assert "and 1 that its maker keeps to themselves" in words
    assert f"{fill.glaze.name} → Lock Green" in words
    assert "earlier-1" not in words
    assert "hidden-1" not in words


def test_what_is_changed_by_hand(mine, member):
    body = make.body()
    place = shelf.create_place(by=make.manager(), name="Board by the sink")
    tile = make.tile(by=member)
    page = reverse("tiles:tile-edit", args=[tile.number])
    values = {"body": body.pk, "place": place.pk, "visibility": "open", "remark": "glaze side up"}
    mine.post(page, {**values, "form": "flat", "state": "bisqued", "version": tile.version})
    tile.refresh_from_db()
    assert (tile.body, tile.place, tile.visibility, tile.state) == (body, place, "open", "bisqued")
    row = Change.objects.filter(object_id=tile.pk).order_by("at").last()
    assert row.after["visibility"] == "open"
    assert "Board by the sink" in text_of(mine.get(tile.get_absolute_url()))


def test_two_who_change_it_at_once_meet_the_conflict_page(mine, member, technician):
    tile = make.tile(by=member)
    old = tile.version
    change_tile(by=technician, obj=tile, values={"remark": "the technician's"})
    typed = {"visibility": "studio", "state": "blank", "remark": "the member's", "version": old}
    answer = mine.post(reverse("tiles:tile-edit", args=[tile.number]), typed)
    assert answer.status_code == 409
    assert "the technician&#x27;s" in answer.content.decode()
    assert "the member&#x27;s" in answer.content.decode()
    tile.refresh_from_db()
    assert tile.remark == "the technician's"


def test_the_story_runs_from_the_clay_to_the_last_look(mine, member, technician):
    """Made, bisqued, glazed, fired, looked at, glazed again on fired glaze, refired, looked at again."""
    row = shelf.create_place(by=technician, name="Kiln room", kind="room")
    board = shelf.create_place(by=technician, name="Board 3", kind="board", parent=row)
    hook = shelf.create_place(by=technician, name="Hook 7", kind="hook", parent=board)
    tile = make.tile("S1", by=member, body=make.body("Weir Stoneware"), place=hook)
    make.fire(make.firing(kind="bisque", target="04"), tile)
    add_layer(by=member, tile=tile, glaze=make.glaze("Weir Ash"))
    make.fire(make.firing(), tile)
    record_outcome(by=member, tile=tile, surface="satin", remark="first look")
    add_layer(by=member, tile=tile, glaze=make.glaze("Lock Green"), ground="fired")
    make.fire(make.firing(kind="refire", target="5"), tile)
    record_outcome(by=member, tile=tile, surface="glossy", remark="second look", verdict="again")
    add_layer(by=member, tile=tile, glaze=make.glaze("Sluice Clear"), ground="fired")
    page = mine.get(tile.get_absolute_url())
    text = text_of(page)
    told = text[text.index("From the clay to the last look") :]
    order = [
        "Made", "Weir Stoneware", ", bisque", "1 Weir Ash", ", glaze", "Cone 6 (1222 °C), planned only",
        "first look", "2 Lock Green", "on fired glaze", ", refire", "Cone 5 (1186 °C)", "second look",
        "3 Sluice Clear", "Not fired yet.", "Kiln room › Board 3 › Hook 7",
    ]  # fmt: skip
    at = 0
    for words in order:
        assert words in told[at:], (words, told)
        at = told.index(words, at) + len(words)
    html = page.content.decode()
    assert html.index('class="face"') < html.index('id="layers"') < html.index('id="looks"')
    assert "recorded an outcome" in told.split("History of this tile")[1]


def test_the_page_asks_no_more_for_more_firings_and_looks(mine, member):
    tile = make.fired_tile(
        by=member, layers=[{"glaze": make.glaze(), "area": "upper"}, {"glaze": make.glaze()}]
    )

    def more(n):
        for _ in range(n):
            make.fire(make.firing(kind="refire"), tile)
            outcome = record_outcome(by=member, tile=tile, surface="satin", faults=[{"kind": "crazing"}])
            file = SimpleUploadedFile("t.jpg", photo_files.jpeg(size=(40, 50 + tile.photos.count())))
            add_photo(by=member, tile=tile, file=file, outcome=outcome)

    same_for_more(mine, tile.get_absolute_url(), more)
