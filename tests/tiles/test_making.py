"""Tiles made in a run, their bisque firing, and what becomes of one or several before they are glazed."""

import pytest
from django.urls import reverse

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles.actions import (
    add_tile,
    glaze_many,
    make_run,
    mark_tiles,
    numbers,
    reserve_numbers,
    set_in_hand,
)
from tiles.models import NumberRun, Tile, TileFiring


def bisque(**fields):
    return make.firing(kind="bisque", target="04", **fields)


def states(tiles):
    return [Tile.objects.get(pk=tile.pk).state for tile in tiles]


def test_a_run_goes_into_its_bisque_firing_whole(member):
    firing = bisque()
    tiles = make_run(by=member, count=3, firing=firing)
    assert {row.tile for row in firing.tile_firings.all()} == set(tiles)
    assert states(tiles) == ["blank"] * 3
    make.fire(firing)
    assert states(tiles) == ["bisqued"] * 3


def test_a_run_that_came_out_of_a_firing_is_bisqued_and_says_of_which(member):
    firing = make.fire(bisque())
    tiles = make_run(by=member, count=2, firing=firing)
    assert states(tiles) == ["bisqued"] * 2
    assert firing.tile_firings.count() == 2
    assert states(make_run(by=member, count=1, bisqued=True)) == ["bisqued"]


@pytest.mark.parametrize(
    "firing",
    [
        lambda: make.firing(kind="glaze"),
        lambda: make.fire(bisque(), stop=True),
    ],
    ids=["glaze", "stopped early"],
)
def test_a_run_that_cannot_have_been_in_the_firing_takes_no_numbers(member, firing):
    with pytest.raises(Refused):
        make_run(by=member, count=2, firing=firing())
    assert (Tile.objects.count(), NumberRun.objects.count(), TileFiring.objects.count()) == (0, 0, 0)
    assert reserve_numbers(by=member, count=1)[0].number == "1"


def test_a_technician_names_another_maker_and_a_member_cannot(member, technician):
    (tile,) = make_run(by=technician, count=1, maker=member)
    assert (tile.maker, tile.run.reserved_by) == (member, technician)
    with pytest.raises(NotAllowed):
        make_run(by=member, count=1, maker=technician)


def test_several_are_lost_at_once_and_found_as_they_were(member):
    bare = make_run(by=member, count=2)
    bisqued = make_run(by=member, count=1, bisqued=True)
    glazed = [make.tile(by=member, layers=[{"glaze": make.glaze()}])]
    looked_at = [make.fired_tile(by=member, outcome={"surface": "satin"})]
    tiles = [*bare, *bisqued, *glazed, *looked_at]
    before = states(tiles)
    mark_tiles(by=member, tiles=tiles, mark="lost", reason="the board fell")
    assert states(tiles) == ["lost"] * 5
    assert Change.objects.filter(reason="the board fell").count() == 5
    mark_tiles(by=member, tiles=tiles, mark="found")
    assert states(tiles) == before == ["blank", "blank", "bisqued", "glazed", "recorded"]


def test_the_page_of_a_run_offers_its_bare_tiles_to_be_glazed_and_ticks_none(client, member):
    tiles = make_run(by=member, count=4)
    glaze_many(by=member, tiles=tiles[1:2], layers=[{"glaze": make.glaze()}])
    client.force_login(member)
    shown = client.get(reverse("tiles:run", args=[tiles[0].run_id]))
    assert " checked" not in shown.content.decode()
    assert "All of them: 1-4." in shown.content.decode()
    client.post(reverse("tiles:set-choose"), {"numbers": shown.context["bare"]})
    assert set_in_hand(member) == [tiles[0], *tiles[2:]]


def test_what_cannot_be_said_of_one_is_said_of_none_and_the_tile_is_named(member, people):
    tiles = make_run(by=member, count=2)
    mark_tiles(by=member, tiles=tiles[1:], mark="broken")
    with pytest.raises(Refused, match="Tile 1: It is neither lost nor broken"):
        mark_tiles(by=member, tiles=tiles, mark="found")
    theirs = make.tile("O7", by=people["other"])
    with pytest.raises(NotAllowed, match="Tile O7"):
        mark_tiles(by=member, tiles=[*tiles[:1], theirs], mark="lost")
    assert states([*tiles, theirs]) == ["blank", "broken", "blank"]


def test_whoever_reserves_while_the_number_is_written_on_a_tile_looks_for_others(member, monkeypatch):
    """The moment between looking for free numbers and taking them, played once (and taken back with the attempt)."""
    real, played = numbers._free_numbers, []

    def and_then_somebody_adds_one(*args):
        free = real(*args)
        if not played:
            played.append(add_tile(by=member, number="1"))
        return free

    monkeypatch.setattr(numbers, "_free_numbers", and_then_somebody_adds_one)
    made = reserve_numbers(by=member, count=2)
    assert played
    assert sorted(Tile.objects.values_list("pk", flat=True)) == sorted(tile.pk for tile in made)
    assert NumberRun.objects.count() == 1


def test_two_who_write_the_same_number_at_once_are_told(member, client, monkeypatch):
    """The other one's tile is there between the check and the insert."""
    client.force_login(member)
    real, played = Tile.full_clean, []

    def and_then_somebody_else_adds_it(tile, *args, **kwargs):
        real(tile, *args, **kwargs)
        if not played:
            played.append(1)
            Tile.objects.bulk_create([Tile(number="A7", maker=member)])

    monkeypatch.setattr(Tile, "full_clean", and_then_somebody_else_adds_it)
    answer = client.post("/log/add/", {"number": "a7", "visibility": "studio", "form": "L-shaped"})
    assert answer.status_code == 200
    assert "on another tile" in str(answer.context["form"].errors["number"])
    assert answer.context["form"]["form"].value() == "L-shaped"
