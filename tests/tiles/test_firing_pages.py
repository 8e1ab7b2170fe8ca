"""The pages of a firing: planning with a second question, steps, loading, witness cones; and what goes wrong."""

import re

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions
from tiles.models import Firing, WitnessCone


def plan(kiln_, **fields):
    given = {"kiln": kiln_.pk, "kind": "glaze", "target_cone": "6", "atmosphere": "oxidation"}
    return {**given, "schedule": "slowly to 600, then on", "remark": "glaze class", **fields}


def at(name, firing):
    return reverse(f"tiles:firing-{name}", args=[firing.number])


def test_a_firing_is_planned_and_then_stands_in_the_list(tech):
    kiln = make.kiln("Kiln by the door")
    response = tech.post(reverse("tiles:firing-new"), plan(kiln, planned_on="2026-03-04"), follow=True)
    firing = Firing.objects.get()
    assert response.redirect_chain == [(f"/firings/{firing.number}/", 302)]
    assert (firing.target_cone, str(firing.planned_on)) == (make.cone("6"), "2026-03-04")
    shown = text_of(response)
    for words in ("Glaze, cone 6 (1222 °C), oxidation", "Planned", "Kiln by the door", "slowly to 600"):
        assert words in shown
    assert "cone 6 (1222 °C)" in text_of(tech.get(reverse("tiles:firing-list")))


def test_the_form_says_what_a_nought_makes_of_a_cone(tech):
    assert "cone 6 (1222 °C), cone 06 (998 °C)" in text_of(tech.get(reverse("tiles:firing-new")))


def test_an_unlikely_cone_is_asked_about_once_and_nothing_typed_is_lost(tech):
    kiln, address = make.kiln("Kiln by the door"), reverse("tiles:firing-new")
    make.body(bisque="06")
    asked = tech.post(address, plan(kiln, kind="bisque", target_cone="6"))
    html = asked.content.decode()
    assert not Firing.objects.exists()
    assert "Is it really cone 6 (1222 °C)? For this load cone 06 (998 °C) would be the usual one" in text_of(
        asked
    )
    assert "slowly to 600, then on" in html
    assert "glaze class" in html
    assert re.search(r'name="target_cone" value="6"', html)
    assert re.search(r'type="checkbox" name="confirmed_cone" value="6"', html)
    # A yes to one cone is no yes to another.
    again = tech.post(address, plan(kiln, kind="bisque", target_cone="5", confirmed_cone="6"))
    assert "Is it really cone 5" in text_of(again)
    assert not Firing.objects.exists()
    tech.post(address, plan(kiln, kind="bisque", target_cone="6", confirmed_cone="6"))
    assert Firing.objects.get().target_cone == make.cone("6")


@pytest.mark.parametrize(
    ("kind", "cone", "ranges", "asks"),
    [
        ("glaze", "06", [("5", "7")], True),
        ("glaze", "06", [("5", "7"), ("06", "2")], False),
        ("glaze", "6", [("5", "7")], False),
        ("glaze", "6", [("07", "05")], True),
        ("glaze", "06", [], False),
        ("glaze", "10", [("5", "7")], False),
        ("overglaze", "018", [("5", "7")], False),
        ("bisque", "06", [("5", "7")], False),
        ("bisque", "4", [("5", "7")], True),
    ],
)
def test_what_is_unlikely_depends_on_the_clay_of_the_studio(tech, kind, cone, ranges, asks):
    for low, high in ranges:
        make.body(low=low, high=high, bisque="04")
    kiln = make.kiln(highest="12")
    response = tech.post(reverse("tiles:firing-new"), plan(kiln, kind=kind, target_cone=cone))
    assert ("Is it really" in response.content.decode()) is asks
    assert Firing.objects.exists() is not asks


def test_of_a_loaded_kiln_the_load_decides(tech, manager):
    make.body(low="06", high="2")
    firing = make.firing(target="6")
    actions.load_tile(by=manager, firing=firing, tile=make.tile(body=make.body(low="5", high="7")))
    fields = {**plan(firing.kiln, target_cone="06"), "version": Firing.objects.get().version}
    assert "Is it really cone 06" in text_of(tech.post(at("edit", firing), fields))
    same = {**fields, "target_cone": "6"}
    assert tech.post(at("edit", firing), same).status_code == 302


BAD = [
    ({"target_cone": ""}, "target_cone", "required"),
    ({"target_cone": "66"}, "target_cone", "There is no cone 66"),
    ({"target_cone": "hot"}, "target_cone", "is not a cone"),
    ({"target_cone": "9"}, "target_cone", "no higher than cone 8"),
    ({"kiln": ""}, "kiln", "required"),
    ({"kiln": "1"}, "kiln", "valid"),
    ({"kind": "raku"}, "kind", "raku"),
    ({"atmosphere": "smoky"}, "atmosphere", "smoky"),
    ({"planned_on": "31.2.2026"}, "planned_on", "date"),
    ({"remark": "x\x00"}, "remark", "Null"),
]


@pytest.mark.parametrize(("fields", "field", "words"), BAD, ids=[f"{b[1]}-{n}" for n, b in enumerate(BAD)])
def test_a_plan_that_cannot_be_used_says_so_at_its_field(tech, fields, field, words):
    response = tech.post(reverse("tiles:firing-new"), plan(make.kiln(), **fields))
    assert response.status_code == 200
    assert words in " ".join(response.context["form"].errors[field])
    assert "slowly to 600" in response.content.decode()
    assert not Firing.objects.exists()


def test_who_edits_an_old_version_gets_both_to_compare(tech, people):
    firing = make.firing()
    stale = firing.version
    actions.change_firing(by=people["manager"], obj=firing, values={"remark": "theirs"}, version=stale)
    response = tech.post(at("edit", firing), {**plan(firing.kiln, remark="mine"), "version": stale})
    assert response.status_code == 409
    assert {"mine", "theirs"} <= set(text_of(response).split())
    firing.refresh_from_db()
    assert firing.remark == "theirs"


def test_the_steps_are_buttons_and_lead_to_the_end(tech):
    firing = make.firing()
    for state, words in (
        ("firing", "It is firing now"),
        ("cooling", "It is cooling"),
        ("unloaded", "It is unloaded"),
    ):
        shown = tech.get(firing.get_absolute_url())
        assert words in text_of(shown)
        assert f'value="{state}"' in shown.content.decode()
        tech.post(at("move", firing), {"state": state, "version": Firing.objects.get().version})
        firing.refresh_from_db()
        assert firing.state == state
    assert 'name="state"' not in tech.get(firing.get_absolute_url()).content.decode()


def test_a_step_that_is_not_open_is_refused_in_words(tech):
    firing = make.firing()
    response = tech.post(at("move", firing), {"state": "unloaded", "version": firing.version})
    assert f"Firing {firing.number} is planned; it cannot become unloaded from there." in text_of(response)


def test_a_step_from_an_old_page_is_a_conflict(tech, people):
    firing = make.firing()
    actions.change_firing(by=people["manager"], obj=firing, values={"remark": "x"})
    assert tech.post(at("move", firing), {"state": "firing", "version": 1}).status_code == 409
    firing.refresh_from_db()
    assert firing.state == "planned"


def test_a_member_sees_no_steps_but_may_load(client, member):
    client.force_login(member)
    firing, tile = make.firing(), make.tile("312", by=member)
    html = client.get(firing.get_absolute_url()).content.decode()
    assert 'name="state"' not in html
    assert "override_reason" not in html
    response = client.post(at("load", firing), {"number": " 312 ", "position": "top"}, follow=True)
    assert "Tile 312 is in." in text_of(response)
    [(row, card)] = response.context["hung"]
    assert (row.tile, card.facts) == (tile, ("top",))
    out = client.post(at("take-out", firing), {"tile": "312"}, follow=True)
    assert "Tile 312 is out again." in text_of(out)
    assert not firing.tile_firings.exists()


def test_what_stops_a_tile_is_listed_and_a_technician_may_go_on(client, people):
    firing = make.firing(make.kiln(highest="12"), target="10")
    make.tile("312", body=make.body(low="06", high="2"))
    sent = {"number": "312", "position": "top"}
    client.force_login(people["member"])
    stopped = client.post(at("load", firing), sent)
    assert "Stop This firing goes to cone 10 (1285 °C)" in text_of(stopped)
    assert "A technician can put it in all the same" in text_of(stopped)
    assert 'value="312"' in stopped.content.decode()
    assert client.post(at("load", firing), {**sent, "override_reason": "mine"}).status_code == 200
    assert not firing.tile_firings.exists()
    client.force_login(people["technician"])
    offered = client.post(at("load", firing), sent)
    assert 'name="override_reason"' in offered.content.decode()
    response = client.post(at("load", firing), {**sent, "override_reason": "a melting trial"}, follow=True)
    assert "Went in all the same Tile 312. This firing goes to cone 10 (1285 °C)" in text_of(response)
    assert "Reason given: a melting trial" in text_of(response)


UNLOADABLE = [
    ("nothing of that number", {"number": "77"}, "No tile has this number"),
    ("another's private tile", {"number": "P1"}, "No tile has this number"),
    ("no number", {"number": ""}, "required"),
    ("a place that the kiln lacks", {"number": "312", "position": "attic"}, "attic"),
    ("a tile in another firing", {"number": "E1"}, "already"),
    ("a broken tile", {"number": "B1"}, "broken"),
]


@pytest.mark.parametrize(("what", "sent", "words"), UNLOADABLE, ids=[u[0] for u in UNLOADABLE])
def test_what_cannot_be_loaded_is_refused_in_words(client, people, what, sent, words):
    client.force_login(people["member"])
    firing = make.firing()
    make.tile("312")
    make.tile("P1", by=people["other"], visibility="mine")
    actions.load_tile(by=make.manager(), firing=make.firing(), tile=make.tile("E1"))
    actions.change_tile(by=make.manager(), obj=make.tile("B1"), values={"state": "broken"})
    response = client.post(at("load", firing), sent)
    assert words in text_of(response)
    assert not firing.tile_firings.exists()


def test_a_private_tile_of_another_is_counted_but_not_shown(client, people):
    firing = make.firing()
    for number, visibility in (("P1", "mine"), ("S1", "studio")):
        tile = make.tile(number, by=people["other"], visibility=visibility)
        actions.load_tile(by=people["other"], firing=firing, tile=tile)
    client.force_login(people["member"])
    response = client.get(firing.get_absolute_url())
    assert [card.number for _row, card in response.context["hung"]] == ["S1"]
    assert "P1" not in text_of(response)
    assert "1 more is kept private by its maker." in text_of(response)
    assert client.post(at("take-out", firing), {"tile": "P1"}).status_code == 404
    client.force_login(people["technician"])
    assert "P1" in text_of(client.get(firing.get_absolute_url()))


def rows(*given, stored=0):
    """The witness form as a browser sends it, with its three spare rows."""
    total = max(len(given), stored) + 3
    sent = {"w-TOTAL_FORMS": str(total), "w-INITIAL_FORMS": str(stored)}
    for n in range(total):
        row = {"position": "", "cone": "", "cone_type": "self_supporting", "bend_degrees": "", "clock": ""}
        row |= given[n] if n < len(given) else {}
        sent |= {f"w-{n}-{name}": value for name, value in row.items()}
    return sent


def test_witness_cones_become_the_cones_of_the_tiles(tech, manager):
    firing = make.firing()
    placed = {number: make.tile(number, layers=[{"glaze": make.glaze()}]) for number in ("T", "M", "X")}
    for number, position in (("T", "top"), ("M", "middle"), ("X", "")):
        actions.load_tile(by=manager, firing=firing, tile=placed[number], position=position)
    make.fire(firing)
    sent = rows(
        {"position": "top", "cone": "6", "bend_degrees": "95"},
        {"position": "top", "cone": "7", "clock": "3"},
        {"position": "bottom", "cone": "5", "clock": "6 o'clock"},
        {"position": "bottom", "cone": "6", "bend_degrees": ""},
    )
    response = tech.post(
        at("witness", firing), {**sent, "version": Firing.objects.get().version}, follow=True
    )
    assert {(w.position, str(w.cone), w.bend_degrees) for w in WitnessCone.objects.all()} == {
        ("top", "6", 95),
        ("top", "7", 45),  # 3 o'clock: 15 degrees an hour from 12, see tiles/calc/witness.py
        ("bottom", "5", 90),
        ("bottom", "6", None),
    }
    said = {card.number: (card.facts, card.note) for _row, card in response.context["hung"]}
    assert said == {
        "T": (("top", "cone 6 (1222 °C)"), "by the witness cone beside it"),
        "M": (("middle", "cone 5 (1186 °C)"), "the coolest that the firing's witness cones show"),
        "X": (("position not noted", "cone 5 (1186 °C)"), "the coolest that the firing's witness cones show"),
    }
    wall = tech.get(reverse("tiles:wall"))
    hung = {rail.cone.code: [c.number for c in rail.cards] for rail, _alone in wall.context["rails"]}
    assert hung == {"6": ["T"], "5": ["X", "M"]}


def test_the_witness_form_always_has_three_spare_rows_and_takes_rows_away(tech, manager):
    firing = make.firing()
    stored = [{"position": "top", "cone": make.cone(c), "bend_degrees": 10} for c in ("5", "6")]
    actions.set_witness_cones(by=manager, firing=firing, cones=stored)
    form = tech.get(at("witness", firing)).context["rows"]
    assert (form.initial_form_count(), form.total_form_count()) == (2, 5)
    sent = rows(
        {"position": "top", "cone": "5", "bend_degrees": "10", "DELETE": "on"},
        {"position": "top", "cone": "6", "bend_degrees": "10", "clock": "6"},
        stored=2,
    )
    tech.post(at("witness", firing), sent)
    assert [(str(w.cone), w.bend_degrees) for w in WitnessCone.objects.all()] == [("6", 90)]


BAD_ROWS = [
    ([{"cone": "66"}], "There is no cone 66"),
    ([{"bend_degrees": "90"}], "Say which cone stood there"),
    ([{"cone": "6", "bend_degrees": "121"}], "120"),
    ([{"cone": "6", "bend_degrees": "-1"}], "0"),
    ([{"cone": "6", "bend_degrees": "half"}], "whole number"),
    ([{"cone": "6", "clock": "13:00"}], "such as 4 or 4:30"),
    ([{"cone": "6", "clock": "noon"}], "such as 4 or 4:30"),
    ([{"cone": "6", "clock": "10"}], "lies at 8 at most"),
    ([{"cone": "6", "clock": "6", "bend_degrees": "45"}], "That is 90°, not 45°"),
    ([{"cone": "6", "position": "attic"}], "attic"),
    ([{"cone": "6", "cone_type": "plastic"}], "plastic"),
    ([{"cone": "6", "position": "top"}, {"cone": "6", "position": "top"}], "stands twice in one place"),
]


@pytest.mark.parametrize(("given", "words"), BAD_ROWS, ids=[b[1] for b in BAD_ROWS])
def test_a_row_that_cannot_be_used_says_so_and_everything_stays(tech, given, words):
    firing = make.firing()
    good = {"position": "bottom", "cone": "4", "bend_degrees": "88"}
    response = tech.post(at("witness", firing), rows(good, *given))
    assert response.status_code == 200
    assert words in text_of(response)
    assert 'value="88"' in response.content.decode()
    assert not WitnessCone.objects.exists()


def test_readings_that_cross_somebody_elses_are_kept_on_the_page(tech, people):
    firing = make.firing()
    stale = firing.version
    theirs = [{"position": "top", "cone": make.cone("5"), "bend_degrees": 33}]
    actions.set_witness_cones(by=people["manager"], firing=firing, cones=theirs)
    mine = {**rows({"position": "top", "cone": "6", "bend_degrees": "77"}), "version": stale}
    response = tech.post(at("witness", firing), mine)
    assert response.status_code == 409
    assert 'value="77"' in response.content.decode()
    assert "top: cone 5 (1186 °C), 33°" in text_of(response)
    again = {**mine, "version": response.context["version"]}
    assert tech.post(at("witness", firing), again).status_code == 302
    assert [w.bend_degrees for w in WitnessCone.objects.all()] == [77]


@pytest.mark.parametrize(
    "sent", [{}, {"w-TOTAL_FORMS": "x", "w-INITIAL_FORMS": "0"}, {"w-TOTAL_FORMS": "99999"}]
)
def test_a_mangled_witness_form_writes_nothing(tech, manager, sent):
    firing = make.firing()
    actions.set_witness_cones(by=manager, firing=firing, cones=[{"cone": make.cone("6"), "bend_degrees": 50}])
    assert tech.post(at("witness", firing), sent).status_code == 200
    assert WitnessCone.objects.count() == 1


def test_the_kilns_cautions_stand_on_the_firing(tech):
    kiln = make.kiln(lead_or_cadmium=True, salt=True, cautions="The lid lifter sticks.")
    shown = text_of(tech.get(make.firing(kiln).get_absolute_url()))
    assert "Lead or cadmium is known or suspected" in shown
    assert "Salt or soda" in shown
    assert "Lustre" not in shown
    assert "The lid lifter sticks." in shown


def test_the_list_can_be_narrowed_and_says_what_it_cannot(tech):
    door, barn = make.kiln("By the door"), make.kiln("In the barn")
    kept = make.firing(door)
    make.firing(barn), make.fire(make.firing(door))
    found = tech.get(reverse("tiles:firing-list"), {"kiln": door.pk, "state": "planned"})
    assert found.context["firings"] == [kept]
    wrong = tech.get(reverse("tiles:firing-list"), {"kind": "raku", "kilm": "1"})
    assert wrong.context["firings"] == []
    assert "raku" in text_of(wrong)
    assert "Did you mean kiln?" in text_of(wrong)


def test_more_firings_and_more_tiles_ask_no_more_queries(tech, manager):
    def firings(n):
        for _ in range(n):
            made = make.firing()
            actions.load_tile(by=manager, firing=made, tile=make.tile())

    same_for_more(tech, reverse("tiles:firing-list"), firings)
    firing = make.firing()

    def tiles(n):
        for _ in range(n):
            tile = make.tile(body=make.body(), layers=[{"fill": make.fill()}, {"glaze": make.glaze()}])
            actions.load_tile(by=manager, firing=firing, tile=tile, position="top")

    same_for_more(tech, firing.get_absolute_url(), tiles)
