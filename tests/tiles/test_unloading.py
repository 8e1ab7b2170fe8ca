"""Unloading tile after tile: the order, what is tapped kept at once, nobody's look lost, nothing private shown."""

import re
import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from studio.errors import Refused
from tests import make, photo_files
from tests.reading import text_of
from tests.tiles.counting import queries
from tiles.actions import add_layer, change_tile, load_tile, record_outcome, step_back, take_look_back
from tiles.actions.unloading import keep_look
from tiles.models import Firing, LookDraft, Outcome, Tile


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


def glazed(number, by, **fields):
    return make.tile(number, by=by, layers=[{"glaze": make.glaze()}], **fields)


@pytest.fixture
def kiln_load(member):
    """Unloaded: T2 and T10 on the bottom shelf, A1 on the top one, B1 somewhere."""
    firing = make.firing(make.kiln(positions=["top", "bottom"]))
    for number, place in (("T10", "bottom"), ("B1", ""), ("T2", "bottom"), ("A1", "top")):
        load_tile(by=member, firing=firing, tile=glazed(number, member), position=place)
    return make.fire(firing)


def at(firing, number, name="unload-tile"):
    return reverse(f"tiles:{name}", args=[firing.number, number])


def said(**fields):
    return {"zone": "whole:", **fields}


def test_place_after_place_then_by_number(mine, kiln_load):
    walked, page = [], mine.get(reverse("tiles:unload", args=[kiln_load.number]), follow=True)
    while "tile" in page.context:
        tile = page.context["tile"]
        walked.append(tile.number)
        page = mine.post(at(kiln_load, tile.number), said(verdict="again"), follow=True)
    assert walked == ["A1", "T2", "T10", "B1"]
    assert "All its tiles are looked at." in text_of(page)
    assert set(Outcome.objects.values_list("firing", "verdict")) == {(kiln_load.pk, "again")}
    assert {row.tile.state for row in kiln_load.tile_firings.select_related("tile")} == {"recorded"}


def test_a_tile_that_was_passed_over_is_waited_for(mine, kiln_load):
    page = mine.get(at(kiln_load, "A1"))
    assert page.context["skip_url"] == at(kiln_load, "T2")
    for number in ("T2", "T10"):
        mine.post(at(kiln_load, number), said(surface="satin"))
    last = mine.post(at(kiln_load, "B1"), said(surface="satin"), follow=True)
    assert "1 tile is still to be looked at" in text_of(last)
    assert mine.get(reverse("tiles:unload", args=[kiln_load.number]))["Location"] == at(kiln_load, "A1")


def test_what_was_tapped_is_there_after_the_phone_slept(mine, kiln_load, client, people):
    tapped = said(surface="satin", moved="2", fault_crazing="on", at_crazing=["lip", "foot"], colour="bluish")
    assert mine.post(at(kiln_load, "A1", "unload-draft"), {**tapped, "strange": "1"}).status_code == 204
    assert "strange" not in LookDraft.objects.get().data
    form = mine.get(at(kiln_load, "A1")).context["form"]
    shown = {name: form[name].value() for name in ("surface", "moved", "at_crazing", "colour")}
    assert shown == {"surface": "satin", "moved": "2", "at_crazing": ["lip", "foot"], "colour": "bluish"}
    assert form["fault_crazing"].value()
    html = mine.get(at(kiln_load, "A1")).content.decode()
    ticked = re.findall(r'name="(\w+)" value="([^"]+)"[^>]* checked', html)
    assert ticked == [
        ("surface", "satin"),
        ("moved", "2"),
        ("fault_crazing", "on"),
        ("at_crazing", "lip"),
        ("at_crazing", "foot"),
    ]
    assert "begun" in html
    mine.post(at(kiln_load, "A1"), {**tapped, "verdict": "change"})
    look = Outcome.objects.get()
    assert (look.surface, look.movement_mm, look.colour, look.verdict) == ("satin", 2, "bluish", "change")
    assert [(f.kind, f.where) for f in look.faults.all()] == [("crazing", "lip"), ("crazing", "foot")]
    assert not LookDraft.objects.exists()


def test_a_draft_is_its_persons_and_its_firings(mine, kiln_load, client, people, member):
    mine.post(at(kiln_load, "A1", "unload-draft"), said(surface="satin"))
    client.force_login(people["other"])
    assert client.get(at(kiln_load, "A1")).context["form"]["surface"].value() is None
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    again = make.fire(make.firing(kind="refire"), tile)
    client.force_login(member)
    assert client.get(at(again, "A1")).context["form"]["surface"].value() is None


def test_a_photo_is_kept_at_once_and_belongs_to_the_look(mine, kiln_load):
    file = SimpleUploadedFile("a.jpg", photo_files.jpeg((300, 500)))
    fragment = mine.post(
        at(kiln_load, "A1", "unload-photo"), {"camera": file}, headers={"HX-Request": "true"}
    )
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    photo = tile.photos.get()
    assert str(photo.pk) in fragment.content.decode()
    assert (photo.outcome, photo.stage) == (None, "fired")
    mine.post(at(kiln_load, "A1", "unload-draft"), said(surface="dry"))
    assert mine.get(at(kiln_load, "A1")).context["taken"].get() == photo
    mine.post(at(kiln_load, "A1"), said(surface="dry"))
    photo.refresh_from_db()
    assert photo.outcome == tile.outcomes.get()
    bad = SimpleUploadedFile("b.jpg", b"no photo")
    said_so = mine.post(at(kiln_load, "T2", "unload-photo"), {"camera": bad}, headers={"HX-Request": "true"})
    assert 'role="alert"' in said_so.content.decode()


def test_who_looks_second_is_told_and_chooses(mine, kiln_load, people):
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    knew = mine.get(at(kiln_load, "A1")).context["knows"]
    theirs = record_outcome(by=people["other"], tile=tile, surface="glossy")
    told = mine.post(at(kiln_load, "A1"), said(surface="dry", verdict="not_again", knows=knew))
    assert "Second Member looked at this" in text_of(told)
    assert told.context["form"]["surface"].value() == "dry"
    assert tile.outcomes.get() == theirs
    mine.post(at(kiln_load, "A1"), said(surface="dry", verdict="not_again", knows=told.context["knows"]))
    assert set(tile.outcomes.values_list("surface", flat=True)) == {"glossy", "dry"}


def test_the_second_may_leave_theirs_out(mine, kiln_load, people):
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    mine.post(at(kiln_load, "A1", "unload-draft"), said(surface="dry"))
    record_outcome(by=people["other"], tile=tile, surface="glossy")
    gone_on = mine.post(at(kiln_load, "A1"), said(surface="dry", leave="1"))
    assert gone_on["Location"] == at(kiln_load, "T2")
    assert (tile.outcomes.get().surface, LookDraft.objects.count()) == ("glossy", 0)


def test_sent_twice_it_is_kept_once(mine, kiln_load):
    once = said(surface="dry", look=str(uuid.uuid4()))
    for _time in range(2):
        assert mine.post(at(kiln_load, "A1"), once)["Location"] == at(kiln_load, "T2")
    assert Outcome.objects.count() == 1
    # A tap that arrives late leaves no draft, which would swallow the next look under the same id.
    mine.post(at(kiln_load, "A1", "unload-draft"), once)
    assert not LookDraft.objects.exists()


def test_sent_again_after_it_was_taken_back_it_stays_taken_back(member, kiln_load):
    tile, look = Tile.objects.get(number="A1"), uuid.uuid4()
    fields = {"surface": "satin", "faults": [{"kind": "crazing", "where": "lip"}]}
    kept = keep_look(by=member, firing=kiln_load, tile=tile, id=look, **fields)
    take_look_back(by=member, outcome=kept, reason="that was tile T2")
    assert keep_look(by=member, firing=kiln_load, tile=tile, id=look, **fields) == kept
    assert Outcome.with_taken_back.get().taken_back_at is not None


def test_who_goes_back_and_says_something_else_has_looked_twice(mine, kiln_load):
    """A browser that goes back shows the form of the look that is kept, with its id."""
    once = said(surface="dry", look=str(uuid.uuid4()))
    mine.post(at(kiln_load, "A1"), once)
    for _time in range(2):
        mine.post(at(kiln_load, "A1"), {**once, "surface": "satin", "fault_crazing": "on"})
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    assert [look.surface for look in tile.outcomes.order_by("created_at")] == ["dry", "satin"]
    assert {f.kind for look in tile.outcomes.all() for f in look.faults.all()} == {"crazing"}


def test_a_kiln_that_went_back_meanwhile_is_not_looked_into(mine, member, manager):
    """The refired tile was looked at before, so its own state says nothing against it."""
    tile = glazed("R1", member)
    make.fire(make.firing(), tile)
    record_outcome(by=member, tile=tile, surface="satin")
    again = make.fire(make.firing(kind="refire"), tile)
    step_back(by=manager, firing=Firing.objects.get(pk=again.pk), reason="tapped by mistake")
    with pytest.raises(Refused, match="cooling"):
        keep_look(by=member, firing=again, tile=tile, surface="dry")
    assert tile.outcomes.count() == 1


def test_a_private_tile_is_not_there(mine, people):
    firing, hidden = make.firing(), glazed("P1", people["other"], visibility="mine")
    make.fire(firing, hidden, glazed("S1", people["other"]))
    for name in ("unload-tile", "unload-draft", "unload-photo"):
        method = mine.get if name == "unload-tile" else mine.post
        assert method(at(firing, "P1", name)).status_code == 404
    shown = mine.get(reverse("tiles:unloaded", args=[firing.number])).content.decode()
    assert "S1" in shown
    assert "P1" not in shown


def test_a_firing_that_was_stopped_early_is_looked_at_too(mine, member):
    tile = glazed("S1", member)
    firing = make.fire(make.firing(), tile, stop=True)
    mine.post(at(firing, "S1"), said(fault_underfired="on", verdict="change"))
    tile.refresh_from_db()
    assert (tile.state, tile.outcomes.get().firing) == ("recorded", firing)


@pytest.mark.parametrize("kind", ["glaze", "bisque"])
def test_what_cannot_be_unloaded_says_why(mine, member, kind):
    firing = make.firing(kind=kind, target="6" if kind == "glaze" else "04")
    load_tile(by=member, firing=firing, tile=make.tile("T1", by=member))
    if kind == "bisque":
        make.fire(firing)
    told = mine.post(at(firing, "T1"), said(surface="dry"), follow=True)
    words = "when it is unloaded" if kind == "glaze" else "nothing to look at"
    assert words in text_of(told)
    assert not Outcome.objects.exists()


BAD = [
    ({}, ""),
    ({"movement_mm": "-1"}, "movement_mm"),
    ({"movement_mm": "400"}, "movement_mm"),
    ({"movement_mm": "far"}, "movement_mm"),
    ({"movement_mm": "NaN"}, "movement_mm"),
    ({"moved": "7"}, "moved"),
    ({"surface": "shiny"}, "surface"),
    ({"opacity": "glassy"}, "opacity"),
    ({"verdict": "maybe"}, "verdict"),
    ({"fault_crazing": "on", "at_crazing": "the moon"}, "at_crazing"),
    ({"fault_crazing": "on", "where_crazing": "x" * 81}, "where_crazing"),
    ({"zone": "overlap:", "surface": "dry"}, "zone"),
    ({"zone": f"alone:{uuid.UUID(int=7)}", "surface": "dry"}, "zone"),
    ({"look": "not an id", "surface": "dry"}, "look"),
    ({"colour": "x" * 121}, "colour"),
]


@pytest.mark.parametrize(("fields", "named"), BAD, ids=str)
def test_what_cannot_be_kept_comes_back_with_everything_typed(mine, kiln_load, fields, named):
    answer = mine.post(at(kiln_load, "A1"), said(remark="", **{"damage": "", **fields}) | fields)
    form = answer.context["form"]
    assert list(form.errors) == [named or "__all__"]
    for name, value in fields.items():
        assert form[name].value() in (value, [value], True)
    assert not Outcome.objects.exists()


def test_a_fault_that_nobody_knows_is_no_fault(mine, kiln_load):
    """A name that the form lacks says nothing, so the look says nothing and is refused."""
    answer = mine.post(at(kiln_load, "A1"), said(fault_rust="on"))
    assert "Say at least one thing" in str(answer.context["form"].non_field_errors())


def test_the_same_queries_for_more_tiles(mine, member):
    counted = []
    for size in (3, 9):
        tiles = [glazed(f"Q{size}-{n}", member) for n in range(size)]
        firing = make.fire(make.firing(), *tiles)
        counted.append(
            (
                queries(mine, at(firing, f"Q{size}-0")),
                queries(mine, reverse("tiles:unloaded", args=[firing.number])),
            )
        )
    assert counted[0] == counted[1]


def test_a_refire_keeps_both_looks_with_their_firings(mine, member):
    tile = glazed("R1", member)
    first = make.fire(make.firing(target="6"), tile)
    mine.post(at(first, "R1"), said(surface="matte", verdict="change"))
    add_layer(by=member, tile=tile, glaze=make.glaze("Weir Second"), ground="fired")
    again = make.fire(make.firing(kind="refire", target="5"), tile)
    assert mine.get(reverse("tiles:unload", args=[again.number]))["Location"] == at(again, "R1")
    mine.post(at(again, "R1"), said(surface="glossy", verdict="again"))
    shown = text_of(mine.get(tile.get_absolute_url()))
    for words in (f"after Firing {first.number}", f"after Firing {again.number}", "Matte", "Glossy"):
        assert words in shown
    assert list(tile.outcomes.values_list("firing", "surface")) == [(again.pk, "glossy"), (first.pk, "matte")]


def test_a_lost_tile_is_passed_over(mine, kiln_load, member):
    tile = kiln_load.tile_firings.get(tile__number="A1").tile
    change_tile(by=member, obj=tile, values={"state": "broken"})
    assert mine.get(reverse("tiles:unload", args=[kiln_load.number]))["Location"] == at(kiln_load, "T2")
    told = mine.post(at(kiln_load, "A1"), said(surface="dry"))
    assert "written down as broken" in str(told.context["form"].non_field_errors())
