"""The page of a glaze: each bucket with its label and who read it, what is expected, claimed and was measured."""

from decimal import Decimal

import pytest
from django.urls import reverse

from inventory import actions as shelf
from inventory.models import Glaze
from tests import make
from tests.reading import text_of
from tiles import actions as wall


@pytest.fixture
def blue(manager):
    return make.glaze(
        "Brook Blue",
        origin="bought",
        surface="satin",
        expected_movement_mm=Decimal("2.0"),
        advice="Two dips of three seconds.",
        claim="It never crazes",
    )


@pytest.fixture
def stands(blue, technician):
    return make.fill(
        blue,
        by=technician,
        lot="L-7",
        label="food_safe",
        label_condition="alone, to cone 6",
        child_fit="no",
        container_size="5 L",
        price=Decimal("41.50"),
    )


def test_each_bucket_says_its_label_condition_lot_and_reader(client, member, technician, blue, stands):
    client.force_login(member)
    page = text_of(client.get(blue.get_absolute_url()))
    for said in (
        "“food safe”, alone, to cone 6, read by",
        technician.name,
        "Batch or lot L-7",
        "the container warns against it",
        "Use it",
    ):
        assert said in page


def test_size_and_price_are_for_technicians(client, member, technician, blue, stands):
    client.force_login(member)
    page = text_of(client.get(blue.get_absolute_url()))
    assert "41.50" not in page
    assert "Price paid" not in page
    client.force_login(technician)
    page = text_of(client.get(blue.get_absolute_url()))
    assert "Size of the container 5 L" in page
    assert "Price paid 41.50" in page


def test_what_is_expected_advised_and_only_claimed(client, member, blue):
    client.force_login(member)
    page = text_of(client.get(blue.get_absolute_url()))
    assert "Expected surface satin" in page
    assert "Expected movement 2 mm" in page
    assert "Coats and methods advised: Two dips of three seconds." in page
    assert "What is only claimed Its author claims: “It never crazes”" in page
    assert "counts as not known" in page


def test_what_was_measured_counts_the_glaze_alone_and_no_private_tile(client, people, blue):
    other = make.glaze("Weir Red")

    def looked_at(layers, visibility="studio", **outcome):
        tile = make.fired_tile(by=people["other"], layers=layers, visibility=visibility)
        wall.record_outcome(by=people["other"], tile=tile, zone="whole", **outcome)

    looked_at([{"glaze": blue}], surface="satin", opacity="opaque", movement_mm=Decimal("1.5"))
    looked_at([{"glaze": blue}], surface="satin", movement_mm=Decimal("4"))
    looked_at([{"glaze": blue}], surface="glossy")
    looked_at([{"glaze": blue}, {"glaze": other}], surface="matte", movement_mm=Decimal("30"))
    looked_at([{"glaze": blue}], "mine", surface="dry", movement_mm=Decimal("50"))
    client.force_login(people["member"])
    page = text_of(client.get(blue.get_absolute_url()))
    assert "Surface seen, alone on the clay satin 2×, glossy 1×" in page
    assert "Opacity seen opaque 1×" in page
    assert "Movement measured 1.5 to 4 mm 2×" in page


def test_former_fills_are_kept_with_how_they_ended(client, member, technician, blue, stands):
    shelf.end_fill(by=technician, fill=stands, why="used up")
    client.force_login(member)
    page = client.get(blue.get_absolute_url())
    assert "In none at present." in text_of(page)
    assert "L-7, used up" in text_of(page)
    assert f'href="{reverse("inventory:fill", args=[stands.pk])}"' in page.content.decode()


def test_advice_and_movement_are_noted_by_form_and_api(client, technician):
    client.force_login(technician)
    typed = {
        "name": "Ash",
        "kind": "glaze",
        "origin": "mixed",
        "expected_movement_mm": "1,5",
        "advice": "one dip",
    }
    assert client.post(reverse("inventory:glaze-new"), typed).status_code == 302
    glaze = Glaze.objects.get()
    assert (glaze.expected_movement_mm, glaze.advice) == (Decimal("1.5"), "one dip")
    read = client.get(f"/api/v1/glazes/{glaze.pk}/").json()
    assert (read["expected_movement_mm"], read["advice"]) == ("1.5", "one dip")
    refused = client.post(
        reverse("inventory:glaze-new"), {**typed, "name": "B", "expected_movement_mm": "-1"}
    )
    assert "greater than or equal to 0" in text_of(refused)
    assert "one dip" in refused.content.decode()


def test_every_question_of_a_form_begins_with_a_capital(client, technician, blue):
    client.force_login(technician)
    page = client.get(reverse("inventory:glaze-edit", args=[blue.pk])).content.decode()
    for label in ("Coolest cone", "Expected surface", "Coats and methods advised"):
        assert f">{label} <" in page
