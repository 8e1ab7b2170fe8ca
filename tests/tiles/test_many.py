"""The same on many tiles: layers, a board, and another tile's layers with one change."""

import pytest
from django.urls import reverse

from inventory import actions as shelf
from studio.errors import Refused, VersionConflict
from studio.models import Change
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import glaze_many, hang, make_run, mark_tiles, repeat_tile, set_in_hand, take_set
from tiles.models import Layer, Tile


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def ten(member):
    return [make.tile(str(n), by=member) for n in range(312, 322)]


def layer_fields(**fields):
    return {"method": "dip", "coats": 1, "area": "whole", "ground": "bisque", **fields}


SET = "/log/set/"


def test_a_layer_goes_onto_all_or_onto_none_and_the_tile_is_named(member, ten):
    glaze = make.glaze()
    mark_tiles(by=member, tiles=ten[4:5], mark="broken")
    with pytest.raises(Refused, match="Tile 316: This tile is broken"):
        glaze_many(by=member, tiles=ten, layers=[{"glaze": glaze}])
    assert not Layer.objects.exists()
    sound = [*ten[:4], *ten[5:]]
    glaze_many(by=member, tiles=sound, layers=[{"glaze": glaze}, {"glaze": glaze, "area": "upper"}])
    assert {tile.layers.count() for tile in sound} == {2}


def test_tiles_that_changed_meanwhile_stop_all_of_them(member, ten):
    versions = {tile.pk: tile.version for tile in ten}
    glaze_many(by=member, tiles=ten[3:4], layers=[{"glaze": make.glaze()}])
    with pytest.raises(VersionConflict):
        glaze_many(by=member, tiles=ten, layers=[{"glaze": make.glaze()}], versions=versions)
    assert Layer.objects.count() == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("312-323", "There is no tile 322, 323"),
        ("321-312", "runs backwards"),
        ("A1-B3", "different letters"),
        ("1-9999", "too many"),
        ("", "Say which tiles"),
        ("312-", "There is no tile 312-"),
    ],
)
def test_what_names_no_tiles(mine, ten, typed, said):
    answer = mine.post(reverse("tiles:set-choose"), {"numbers": typed})
    assert said in str(answer.context["form"].errors["numbers"])
    assert answer.context["form"]["numbers"].value() == typed


def test_a_set_is_chosen_glazed_and_laid_down(mine, member, ten):
    fill = make.fill()
    assert mine.get(SET)["Location"] == reverse("tiles:set-choose")
    mine.post(reverse("tiles:set-choose"), {"numbers": "312-314, 316", "picked": [ten[9].pk]})
    assert [tile.number for tile in set_in_hand(member)] == ["312", "313", "314", "316", "321"]
    assert "Next coat on 5 tiles" in mine.get(f"/b/{fill.bucket.code}").content.decode()
    form = mine.get(f"{SET}?fill={fill.pk}").context["form"]
    sent = layer_fields(fill=fill.pk, versions=form["versions"].value())
    mine.post(SET, sent)
    assert Layer.objects.filter(fill=fill).count() == 5
    again = mine.post(SET, {**sent, "tool": "tongs"})  # the same page sent twice
    assert again.status_code == 409
    assert again.context["form"]["tool"].value() == "tongs"
    assert Layer.objects.count() == 5
    mine.post(reverse("tiles:set-done"))
    assert set_in_hand(member) == []


def test_tiles_of_a_set_that_differ_are_drawn_apart(mine, member, ten):
    glaze_many(by=member, tiles=ten[:2], layers=[{"glaze": make.glaze("Weir Ash")}])
    take_set(by=member, tiles=ten)
    stacks = mine.get(SET).context["stacks"]
    assert [(len(layers), numbers) for layers, _tile, numbers in stacks] == [(1, "312-313"), (0, "314-321")]


def test_a_private_tile_of_another_cannot_be_named(mine, people, ten):
    make.tile("700", by=people["other"], visibility="mine")
    answer = mine.post(reverse("tiles:set-choose"), {"numbers": "312, 700"})
    assert "There is no tile 700" in str(answer.context["form"].errors["numbers"])


def test_the_list_of_runs_asks_as_many_queries_for_more(mine, member):
    def add(n):
        for _i in range(n):
            make_run(by=member, count=2)

    same_for_more(mine, reverse("tiles:run-list"), add)


# Repeating.
def test_the_same_with_one_change_and_one_layer_left_out(member):
    ash, blue, old = make.fill(make.glaze("Ash")), make.fill(make.glaze("Blue")), make.fill(make.glaze("Old"))
    layers = [
        {"fill": ash, "coats": 2, "method": "brush", "tool": "fan brush", "thickness_mm": "0.80"},
        {"fill": blue, "area": "upper"},
        {"fill": old, "area": "lower"},
    ]
    source, tile = make.tile("311", by=member, layers=layers), make.tile("312", by=member)
    shelf.end_fill(by=make.manager(), fill=old, why="used up")
    repeat_tile(by=member, source=source, tile=tile, changed={1: {"coats": 3}, 2: None})
    first, second = tile.layers.order_by("position")
    assert (first.fill, first.coats, first.method, first.tool, str(first.thickness_mm)) == (
        ash,
        3,
        "brush",
        "fan brush",
        "0.80",
    )
    assert (second.glaze.name, second.fill, second.area) == ("Old", None, "lower")


def test_a_page_repeats_the_last_tile(mine, member):
    ash, blue = make.fill(make.glaze("Ash")), make.fill(make.glaze("Blue"))
    source = make.tile("311", by=member, layers=[{"fill": ash}, {"fill": ash, "area": "upper"}])
    tile = make.tile("312", by=member)
    assert "Same as tile 311, but…" in mine.get("/t/312/log").content.decode()
    page = mine.get("/t/312/same")
    shown = page.context
    assert shown["source"] == source
    sent = {
        "as": "311",
        **{
            f"{form.prefix}-{field.name}": field.value() or "" for _d, form in shown["rows"] for field in form
        },
    }
    del sent["layer1-leave_out"], sent["layer2-leave_out"]
    refused = mine.post("/t/312/same", {**sent, "layer1-coats": "13", "layer2-coats": "2"})
    assert refused.status_code == 200
    assert "coats" in refused.context["rows"][0][1].errors
    folds = [
        text.count('<details class="folds" open>')
        for text in (page.content.decode(), refused.content.decode())
    ]
    assert folds == [0, 2]  # what is changed or wrong stands open, and nothing else
    assert not tile.layers.exists()
    mine.post("/t/312/same", {**sent, "layer2-what": f"fill:{blue.pk}", "layer2-coats": "2"})
    made = [(la.fill, la.coats, la.area) for la in tile.layers.order_by("position")]
    assert made == [(ash, 1, "whole"), (blue, 2, "upper")]


# Boards.
def test_moving_a_board_moves_its_tiles(mine, technician, ten):
    room = shelf.create_place(by=technician, name="Kiln room", kind="room")
    other = shelf.create_place(by=technician, name="Glaze room", kind="room")
    board = shelf.create_place(by=technician, name="Board 3", kind="board", parent=room)
    hook = shelf.create_place(by=technician, name="hook 12", kind="hook", parent=board)
    page = reverse("tiles:board", args=[board.pk])
    mine.post(page, {"numbers": "312-314", "onto": hook.pk})
    assert "Kiln room › Board 3 › hook 12" in text_of(mine.get("/t/312"))
    change = Change.objects.filter(verb="hung").first()
    assert (change.before["place"], change.after["place"]) == (None, "Kiln room › Board 3 › hook 12")
    shelf.change_place(by=technician, obj=board, values={"parent": other})
    assert "Glaze room › Board 3 › hook 12" in text_of(mine.get("/t/312"))
    rails = {words_: len(cards) for _p, words_, cards in mine.get(page).context["rails"]}
    assert rails == {"Board 3": 0, "hook 12": 3}
    above = mine.get(reverse("tiles:board", args=[other.pk])).context["rails"]
    assert {words_: len(cards) for _p, words_, cards in above}["Board 3 › hook 12"] == 3


def test_everybody_may_hang_any_tile_and_what_is_put_away_takes_none(member, technician):
    tile = make.tile(by=technician)
    board = shelf.create_place(by=technician, name="Board 3", kind="board")
    hang(by=member, tiles=[tile], place=board)
    assert Tile.objects.get(pk=tile.pk).place == board
    shelf.archive(by=technician, obj=board)
    with pytest.raises(Refused, match="put away"):
        hang(by=member, tiles=[tile], place=board)
    hang(by=member, tiles=[tile], place=None)
    assert Tile.objects.get(pk=tile.pk).place is None
