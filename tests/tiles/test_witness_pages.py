"""Reading the witness cones: drawings, degrees, clock; and what becomes of the tiles."""

import re

import pytest
from django.urls import reverse

from studio.models import Change
from tests import make
from tests.reading import text_of
from tests.tiles.firing_forms import at, rows
from tiles import actions
from tiles.models import Firing, WitnessCone


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
        "T": (("top", "cone 6 (1222\u00a0°C)"), "by the witness cone beside it"),
        "M": (("middle", "cone 5 (1186\u00a0°C)"), "the coolest that the firing's witness cones show"),
        "X": (
            ("position not noted", "cone 5 (1186\u00a0°C)"),
            "the coolest that the firing's witness cones show",
        ),
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


def test_a_drawing_is_tapped_and_stands_there_next_time(tech):
    firing = make.firing()
    tech.post(at("witness", firing), rows({"position": "top", "cone": "6", "looks_like": "75"}))
    assert WitnessCone.objects.get().bend_degrees == 75
    page = tech.get(at("witness", firing))
    first = page.context["rows"].forms[0]
    assert [cone.degrees for _option, cone in first.drawn() if cone] == [0, 30, 45, 60, 75, 90]
    assert re.search(r'name="w-0-looks_like" value="75"[^>]* checked', page.content.decode())
    assert "75°, nearly down (5)" in text_of(page)
    # Another drawing, or degrees, or no drawing any more: what is said anew counts.
    for sent, bend in (({"looks_like": "90"}, 90), ({"looks_like": "90", "bend_degrees": "97"}, 97)):
        stored = {"position": "top", "cone": "6", "bend_degrees": str(WitnessCone.objects.get().bend_degrees)}
        tech.post(at("witness", firing), rows({**stored, **sent}, stored=1))
        assert WitnessCone.objects.get().bend_degrees == bend
    tech.post(at("witness", firing), rows({"position": "top", "cone": "6", "bend_degrees": ""}, stored=1))
    assert WitnessCone.objects.get().bend_degrees is None


def test_a_cone_at_75_is_nearly_down_and_never_said_to_stand(tech, manager):
    firing, tile = make.firing(), make.tile("9", layers=[{"glaze": make.glaze()}])
    make.fire(firing, tile, witness=[{"cone": make.cone("6"), "bend_degrees": 75}])
    assert "stood" not in text_of(tech.get(reverse("tiles:wall")))
    for address in (firing.get_absolute_url(), tile.get_absolute_url()):
        said = text_of(tech.get(address))
        assert "stood" not in said
        assert "no witness cone was down" in said.lower()
    assert "75°, nearly down" in text_of(tech.get(firing.get_absolute_url()))


def test_two_ways_of_saying_it_must_agree(tech):
    firing = make.firing()
    differs = tech.post(at("witness", firing), rows({"cone": "6", "looks_like": "45", "clock": "6"}))
    assert "That is 45°, not 90°." in text_of(differs)
    assert not WitnessCone.objects.exists()
    tech.post(
        at("witness", firing), rows({"cone": "6", "looks_like": "45", "clock": "3", "bend_degrees": "45"})
    )
    assert WitnessCone.objects.get().bend_degrees == 45


def test_cones_sent_again_as_they_are_write_no_history(manager):
    firing = make.firing()
    cones = [{"position": "top", "cone": make.cone("6"), "bend_degrees": 90}]
    for n in (1, 1):
        actions.set_witness_cones(by=manager, firing=firing, cones=cones)
        assert Change.objects.filter(object_id=firing.pk, verb="read the witness cones").count() == n
    kept = firing.witness_cones.get()
    cones[0]["cone_type"] = "large"
    actions.set_witness_cones(by=manager, firing=firing, cones=cones)
    row = Change.objects.filter(verb="read the witness cones").order_by("-at").first()
    assert row.before != row.after
    assert kept.cone_type == "self_supporting"


@pytest.mark.parametrize(
    ("five", "six", "kind", "is_told"),
    [
        (0, 90, "self_supporting", True),
        (69, 90, "self_supporting", True),
        (70, 90, "self_supporting", False),  # an eye reads each to about ten degrees
        (90, 120, "self_supporting", False),
        (0, 90, "small", False),  # another type stands otherwise
    ],
)
def test_a_hotter_cone_that_bent_further_than_a_cooler_one_is_told(tech, manager, five, six, kind, is_told):
    firing = make.fire(make.firing())
    cones = [
        {"position": "top", "cone": make.cone("5"), "bend_degrees": five},
        {"position": "top", "cone": make.cone("6"), "bend_degrees": six, "cone_type": kind},
        {"position": "bottom", "cone": make.cone("7"), "bend_degrees": 120},
    ]
    actions.set_witness_cones(by=manager, firing=firing, cones=cones)
    shown = text_of(tech.get(firing.get_absolute_url())).replace("\u00a0", " ")
    said = "Top: cone 5 (1186 °C) is bent less than cone 6 (1222 °C), which no firing does."
    assert (said in shown) is is_told
    assert shown.count("which no firing does") == is_told
    told = tech.get(f"/api/v1/firings/{firing.pk}/").json()["contradictions"]
    assert [words.replace("\u00a0", " ").startswith(said) for words in told] == [True] * is_told
