"""Planning a firing: the second question about 06 and 6, bad input, an old version."""

import re

import pytest
from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.firing_forms import at, plan
from tiles import actions
from tiles.models import Firing


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
    assert (
        "Is it really cone 6 (1222 °C)? For such a firing cone 06 (998 °C) would be the usual one"
        in text_of(asked)
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
        ("glaze", "06", [], True),
        ("glaze", "6", [], False),
        ("bisque", "6", [], True),
        ("bisque", "06", [], False),
        ("bisque", "5", [("5", "7", "6")], False),
        ("overglaze", "10", [], True),
        ("refire", "06", [], False),
        ("glaze", "10", [("5", "7")], False),
        ("overglaze", "018", [("5", "7")], False),
        ("bisque", "06", [("5", "7")], False),
        ("bisque", "4", [("5", "7")], True),
    ],
)
def test_what_is_unlikely_depends_on_the_clay_of_the_studio(tech, kind, cone, ranges, asks):
    for low, high, *bisque in ranges:
        make.body(low=low, high=high, bisque=bisque[0] if bisque else "04")
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
