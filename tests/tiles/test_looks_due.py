"""Looks that are due after 1, 4 and 12 weeks (the studio's own choice): the database agrees with the plain rule."""

from datetime import datetime, time, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles.actions import change_tile, load_tile, record_outcome
from tiles.calc.looks import look_due
from tiles.models import Firing, Outcome, Tile

TODAY = timezone.localdate


def out_of_the_kiln(days, *, kind="glaze", tile=None, by=None, number=""):
    """A tile that came out `days` days ago."""
    tile = tile or make.tile(number, by=by, layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(kind=kind, target="6" if kind != "bisque" else "04"), tile)
    noon = timezone.make_aware(datetime.combine(TODAY() - timedelta(days=days), time(12)))
    Firing.objects.filter(pk=firing.pk).update(unloaded_at=noon)
    return tile


def due(person):
    rows = Tile.objects.visible_to(person).look_is_due(person, TODAY())
    return {tile.number: (tile.weeks, (TODAY() - tile.due_on).days) for tile in rows}


class TheRule(TestCase):
    @settings(max_examples=25, deadline=None)
    @given(out=st.integers(0, 120), looks=st.lists(st.integers(0, 120), max_size=3))
    def test_the_database_agrees_with_the_plain_rule(self, out, looks):
        make.studio()
        by = make.manager()
        tile = out_of_the_kiln(out, by=by)
        for days in looks:
            record_outcome(by=by, tile=tile, surface="satin", looked_on=TODAY() - timedelta(days=days))
        days = [TODAY() - timedelta(days=n) for n in looks]
        rule = look_due(TODAY() - timedelta(days=out), days, TODAY())
        found = due(by).get(tile.number)
        assert found == (rule and (rule.weeks, (TODAY() - rule.due_on).days))


def test_what_is_never_due(member):
    gone = out_of_the_kiln(40, number="GONE")
    change_tile(by=make.manager(), obj=gone, values={"state": "lost"})
    out_of_the_kiln(40, kind="bisque", number="RAW", tile=make.tile("RAW"))
    make.fire(make.firing(), make.tile("STOPPED", layers=[{"glaze": make.glaze()}]), stop=True)
    Firing.objects.filter(state="stopped").update(unloaded_at=timezone.now() - timedelta(days=40))
    hot = out_of_the_kiln(40, number="HOT")
    again = make.firing(kind="refire")
    load_tile(by=member, firing=again, tile=hot)
    out_of_the_kiln(40, number="OLD")
    out_of_the_kiln(6, number="NEW")
    out_of_the_kiln(
        40,
        number="HID",
        by=make.person(),
        tile=make.tile("HID", by=make.person(), visibility="mine", layers=[{"glaze": make.glaze()}]),
    )
    assert due(member) == {"OLD": (4, 12), "HOT": (4, 12)}
    Firing.objects.filter(pk=again.pk).update(state="firing")
    assert due(member) == {"OLD": (4, 12)}


def test_a_refire_begins_the_count_again(member):
    tile = out_of_the_kiln(100, number="R1")
    assert due(member)["R1"] == (12, 16)
    out_of_the_kiln(10, kind="refire", tile=tile)
    assert due(member)["R1"] == (1, 3)


def test_mine_first_then_the_longest_due(client, member, people):
    for number, days, by in (("A", 10, "other"), ("B", 90, "other"), ("C", 8, "member"), ("D", 30, "member")):
        out_of_the_kiln(days, number=number, by=people[by])
    client.force_login(member)
    page = client.get(reverse("tiles:looks-due"))
    assert [card.number for card in page.context["mine"]] == ["D", "C"]  # 2 and 1 days late
    assert [card.number for card in page.context["others"]] == ["B", "A"]  # 6 and 3
    rows = client.get("/api/v1/looks-due/").json()["results"]
    assert [row["number"] for row in rows] == ["D", "C", "B", "A"]
    assert [row["weeks"] for row in rows] == [4, 1, 12, 1]
    assert "4 tiles are due to be looked at again" in text_of(client.get(reverse("tiles:firing-list")))


def test_the_page_asks_no_more_for_more(client, member):
    client.force_login(member)

    def add(n):
        for _i in range(n):
            out_of_the_kiln(30)

    same_for_more(client, reverse("tiles:looks-due"), add)


def test_as_it_was_is_one_tap_and_says_the_last_look_again(client, member):
    tile = out_of_the_kiln(30, number="L1", by=member)
    page = reverse("tiles:look-again", args=["L1"])
    client.force_login(member)
    refused = client.post(page, {})
    assert "say first how it came out" in text_of(refused)
    faults = [{"kind": "pinholing", "where": "foot"}]
    record_outcome(
        by=member,
        tile=tile,
        surface="satin",
        verdict="again",
        movement_mm=2,
        faults=faults,
        looked_on=TODAY() - timedelta(days=29),
    )
    assert client.post(page, {})["Location"] == reverse("tiles:looks-due")
    look = tile.outcomes.first()
    assert (look.surface, look.verdict, look.movement_mm, look.looked_on) == ("satin", "again", 2, TODAY())
    assert [(f.kind, f.where) for f in look.faults.all()] == [("pinholing", "foot")]
    assert due(member) == {}
    assert tile.outcomes.count() == 2


def test_after_a_look_comes_the_next_of_ones_own(client, member):
    for number, days in (("L1", 30), ("L2", 9)):
        record_outcome(by=member, tile=out_of_the_kiln(days, number=number, by=member), surface="satin")
    out_of_the_kiln(40, number="L3", by=make.person())
    Outcome.objects.update(looked_on=TODAY() - timedelta(days=40))
    client.force_login(member)
    first, second = (reverse("tiles:look-again", args=[number]) for number in ("L1", "L2"))
    assert client.post(first, {})["Location"] == second
    assert client.post(second, {})["Location"] == reverse("tiles:looks-due")


def test_as_it_was_of_a_tile_of_which_a_part_was_looked_at(client, member):
    halves = [{"glaze": make.glaze(), "area": "upper"}, {"glaze": make.glaze(), "area": "lower"}]
    tile = out_of_the_kiln(30, tile=make.tile("L1", by=member, layers=halves))
    first = record_outcome(
        by=member, tile=tile, zone="overlap", surface="dry", looked_on=TODAY() - timedelta(days=29)
    )
    client.force_login(member)
    client.post(reverse("tiles:look-again", args=["L1"]), {})
    again = tile.outcomes.first()
    assert again != first
    assert (again.zone, again.combination, again.surface) == ("overlap", first.combination, "dry")


@pytest.mark.parametrize(
    ("sent", "places"),
    [
        ({}, [""]),
        ({"at": ["lip", "foot"]}, ["foot", "lip"]),
        ({"at": ["lip"], "where": "the sign"}, ["lip", "the sign"]),
    ],
)
def test_crazing_that_came_later(client, member, sent, places):
    tile = out_of_the_kiln(30, number="L1", by=member)
    record_outcome(by=member, tile=tile, surface="satin", looked_on=TODAY() - timedelta(days=29))
    client.force_login(member)
    client.post(reverse("tiles:look-again", args=["L1"]), {"crazed": "1", **sent})
    assert [(f.kind, f.where) for f in tile.outcomes.first().faults.all()] == [("crazing", p) for p in places]
