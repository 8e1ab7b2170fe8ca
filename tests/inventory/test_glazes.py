"""Glazes: every bucket of one, claims kept apart, and what is refused."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils.html import escape

from inventory import actions as shelf
from inventory.calc.cones import Cone
from inventory.models import Glaze
from tests import make
from tests.reading import text_of

GOOD = {
    "name": "Weir Green",
    "kind": "glaze",
    "origin": "mixed",
    "cone_low": "5½",
    "cone_high": "6",
    "sg_low": "1,44",
    "sg_high": "1.50",
    "surface": "satin",
    "remark": "breaks brown on edges",
}


def test_a_glaze_is_noted_and_changed(client, technician):
    client.force_login(technician)
    client.post(reverse("inventory:glaze-new"), GOOD)
    glaze = Glaze.objects.get()
    assert (glaze.cone_low, glaze.cone_high) == (Cone.parse("5.5"), Cone.parse("6"))
    assert (glaze.sg_low, glaze.sg_high) == (Decimal("1.44"), Decimal("1.5"))
    edit = reverse("inventory:glaze-edit", args=[glaze.pk])
    answer = client.post(edit, {**GOOD, "name": "Weir Green 2", "version": glaze.version})
    assert answer["Location"] == glaze.get_absolute_url()
    assert "Weir Green 2" in text_of(client.get(glaze.get_absolute_url()))


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"name": ""}, "This field is required."),
        ({"name": "mill tenmoku"}, "There is a glaze of this name already."),
        (
            {"cone_low": "6", "cone_high": "06"},
            "Give both cones, the cooler one first (06 is cooler than 6).",
        ),
        ({"cone_low": "6", "cone_high": ""}, "Give both cones"),
        ({"cone_low": "66"}, "There is no cone 66."),
        ({"cone_low": "hot"}, "“hot” is not a cone."),
        ({"sg_low": "1.50", "sg_high": "1.44"}, "Give both ends of the SG window, the lower first"),
        ({"sg_low": "1.44", "sg_high": ""}, "Give both ends of the SG window"),
        ({"sg_low": "144"}, "Did you mean 1.44?"),
        ({"sg_high": "15"}, "Did you mean 1.5?"),
        ({"colour": "green"}, "Write a colour as # and six hexadecimal digits"),
        ({"kind": "paint"}, "Select a valid choice"),
    ],
)
def test_a_refused_glaze_keeps_what_was_typed(client, technician, change, sentence):
    make.glaze("Mill Tenmoku")
    client.force_login(technician)
    data = {**GOOD, **change}
    answer = client.post(reverse("inventory:glaze-new"), data)
    assert sentence in text_of(answer)
    page = answer.content.decode()
    for name in ("name", "cone_low", "cone_high", "sg_low", "sg_high", "remark"):
        assert escape(data[name]) in page
    assert [g.name for g in Glaze.objects.all()] == ["Mill Tenmoku"]


def test_somebody_faster_is_shown_and_nothing_is_overwritten(client, technician, manager):
    glaze = make.glaze("Weir Green")
    client.force_login(technician)
    shelf.change_glaze(by=manager, obj=glaze, values={"remark": "the manager was here"})
    answer = client.post(
        reverse("inventory:glaze-edit", args=[glaze.pk]), {**GOOD, "remark": "mine", "version": 1}
    )
    assert answer.status_code == 409
    assert "the manager was here" in text_of(answer)
    assert "mine" in text_of(answer)
    glaze.refresh_from_db()
    assert glaze.remark == "the manager was here"


def test_the_page_of_a_glaze_shows_every_bucket_with_its_own_standing(client, member, manager):
    glaze = make.glaze(
        "Sluice Clear",
        origin="bought",
        claim="It never leaches",
        health_statement="Contains silica.",
        remark="likes white clay",
    )
    place = shelf.create_place(by=manager, name="Long shelf")
    good = make.fill(glaze, bucket_=make.bucket(place=place), label="food_safe")
    bad = make.fill(glaze, bucket_=make.bucket(by=member, owner=member), by=member)
    gone = make.fill(glaze)
    shelf.end_fill(by=manager, fill=gone, why="used up")
    shelf.raise_flag(by=member, fill=bad, kind="contaminated")
    client.force_login(member)
    answer = client.get(glaze.get_absolute_url())
    standings = {row["bucket"].code: row["spoken"].use for row in answer.context["lids"]}
    assert standings == {good.bucket.code: "use", bad.bucket.code: "do_not_use"}
    said = text_of(answer)
    assert "Its author claims: “It never leaches” That is a claim, and counts as not known." in said
    assert "Its container warns Contains silica." in said
    assert "cone 5 (1186 °C) to cone 6 (1222 °C)" in said


def test_the_list_finds_by_name_in_order_of_the_alphabet(client, member):
    for name in ("weir green", "Mill Tenmoku", "Sluice Clear"):
        make.glaze(name)
    client.force_login(member)
    address = reverse("inventory:glaze-list")
    assert [g.name for g in client.get(address).context["rows"]] == [
        "Mill Tenmoku",
        "Sluice Clear",
        "weir green",
    ]
    assert [g.name for g in client.get(address, {"q": "WEIR"}).context["rows"]] == ["weir green"]
    assert "No glaze is like that." in text_of(client.get(address, {"q": "celadon"}))


def test_a_glaze_put_away_leaves_the_list_and_keeps_its_page(client, technician):
    glaze = make.glaze("Weir Green")
    client.force_login(technician)
    client.post(reverse("inventory:glaze-archive", args=[glaze.pk]), {"version": glaze.version})
    address = reverse("inventory:glaze-list")
    assert list(client.get(address).context["rows"]) == []
    assert [g.pk for g in client.get(address, {"archived": "true"}).context["rows"]] == [glaze.pk]
    assert "was put away" in text_of(client.get(glaze.get_absolute_url()))
    assert glaze.pk not in client.get(reverse("inventory:fill-new", args=[make.bucket().code])).context[
        "form"
    ].fields["glaze"].queryset.values_list("pk", flat=True)
