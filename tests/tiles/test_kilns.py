"""Kilns: positions one on each line, cautions, and that one with a firing to do is not put away."""

import pytest
from django.urls import reverse

from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions
from tiles.models import Kiln

LIST, NEW = "/kilns/", "/kilns/new/"
GOOD = {
    "name": "By the door",
    "highest_cone": "8",
    "positions": " upper shelf \r\n\r\nfloor\r\n",
    "thermocouple": "",
}


def test_positions_are_written_one_on_each_line(tech):
    response = tech.post(NEW, {**GOOD, "salt": "on", "cautions": "The lid lifter sticks."}, follow=True)
    assert Kiln.objects.get().positions == ["upper shelf", "floor"]
    shown = text_of(response)
    # 1249 °C: fixtures/cones.csv.
    for words in (
        "By the door",
        "up to cone 8 (1249 °C)",
        "upper shelf, floor",
        "Salt or soda has been fired in this kiln",
        "sticks",
    ):
        assert words in shown
    assert "Lead" not in shown
    page = tech.get(reverse("tiles:kiln-edit", args=[Kiln.objects.get().pk]))
    assert "upper shelf\nfloor</textarea>" in page.content.decode()


BAD = [
    ({"name": ""}, "name", "required"),
    ({"name": "in the BARN"}, "__all__", "There is a kiln of this name already"),
    ({"highest_cone": "15"}, "highest_cone", "There is no cone 15"),
    ({"highest_cone": "0"}, "highest_cone", "There is no cone 0"),
    ({"positions": ""}, "positions", "Name 1 to 24 positions"),
    ({"positions": "top\ntop"}, "positions", "each once"),
    ({"positions": "\n".join(map(str, range(25)))}, "positions", "Name 1 to 24 positions"),
    ({"positions": "x" * 41}, "positions", "Name 1 to 24 positions"),
    ({"thermocouple": "wood"}, "thermocouple", "wood"),
]


@pytest.mark.parametrize(("fields", "field", "words"), BAD, ids=[f"{b[1]}-{n}" for n, b in enumerate(BAD)])
def test_what_cannot_be_used_is_said_at_its_field_and_stays_typed(tech, fields, field, words):
    make.kiln("In the barn")
    response = tech.post(NEW, {**GOOD, "cautions": "mind the step", **fields})
    assert response.status_code == 200
    assert words in " ".join(response.context["form"].errors.get(field, []))
    assert "mind the step" in response.content.decode()
    assert Kiln.objects.count() == 1


def test_a_change_keeps_what_was_not_touched(tech):
    kiln = make.kiln("By the door", positions=["top", "floor"])
    address = reverse("tiles:kiln-edit", args=[kiln.pk])
    tech.post(address, {**GOOD, "positions": "top\nfloor\nsill", "lustre": "on", "version": kiln.version})
    kiln.refresh_from_db()
    assert (kiln.positions, kiln.lustre, kiln.highest_cone) == (
        ["top", "floor", "sill"],
        True,
        make.cone("8"),
    )


def test_who_edits_an_old_version_gets_both_to_compare(tech, manager):
    kiln = make.kiln("By the door")
    stale = kiln.version
    actions.change_kiln(by=manager, obj=kiln, values={"cautions": "theirs"}, version=stale)
    response = tech.post(
        reverse("tiles:kiln-edit", args=[kiln.pk]), {**GOOD, "cautions": "mine", "version": stale}
    )
    assert response.status_code == 409
    assert {"mine", "theirs"} <= set(text_of(response).split())


@pytest.mark.parametrize(("state", "goes"), [("planned", False), ("firing", False), ("unloaded", True)])
def test_a_kiln_with_a_firing_to_do_is_not_put_away(tech, manager, state, goes):
    kiln = make.kiln("By the door")
    firing = make.firing(kiln)
    if state == "unloaded":
        make.fire(firing)
    elif state == "firing":
        actions.move_firing(by=manager, firing=firing, state="firing")
    response = tech.post(
        reverse("tiles:kiln-archive", args=[kiln.pk]), {"version": kiln.version}, follow=True
    )
    kiln.refresh_from_db()
    assert bool(kiln.archived_at) is goes
    if not goes:
        assert f"Firing {firing.number} is" in text_of(response)


def test_a_kiln_that_was_put_away_is_offered_to_no_new_firing(tech, manager):
    away, kept = make.kiln("By the door"), make.kiln("In the barn")
    actions.archive(by=manager, obj=away)
    offered = tech.get(reverse("tiles:firing-new")).context["form"].fields["kiln"].queryset
    assert [k.name for k in offered] == [kept.name]
    assert [k.name for k in tech.get(LIST, {"archived": "true"}).context["rows"]] == [away.name]


def test_only_technicians_and_managers_change_kilns(people):
    kiln = make.kiln()
    for act in (
        lambda by: actions.create_kiln(by=by, name="Another"),
        lambda by: actions.change_kiln(by=by, obj=kiln, values={"cautions": "x"}),
        lambda by: actions.archive(by=by, obj=kiln),
    ):
        with pytest.raises(NotAllowed):
            act(people["member"])
        act(people["technician"])


def test_the_empty_list_offers_the_first_step(tech):
    assert f'href="{NEW}"' in tech.get(LIST).content.decode()


def test_more_kilns_ask_no_more_queries(tech):
    same_for_more(tech, LIST, lambda n: [make.kiln() for _ in range(n)])
