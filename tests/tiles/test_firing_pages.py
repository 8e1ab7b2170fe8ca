"""A firing's page and the list of them."""

from django.urls import reverse

from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions


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
