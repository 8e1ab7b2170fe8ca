"""The page on which somebody says how a tile came out: nothing typed is ever lost."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from tests import make, photo_files
from tiles.actions import record_outcome
from tiles.models import Outcome, Photo


@pytest.fixture
def mine(client, member):
    client.force_login(member)
    return client


@pytest.fixture
def tile(member):
    """Dipped from both ends and fired."""
    layers = [
        {"glaze": make.glaze("Weir Ash"), "area": "upper"},
        {"glaze": make.glaze("Weir Blue"), "area": "lower"},
    ]
    return make.fired_tile(by=member, layers=layers)


def page(tile):
    return reverse("tiles:tile-look", args=[tile.number])


def said(**fields):
    return {"zone": "whole:", "looked_on": "2026-01-02", **fields}


def file(data, name="tile.jpg"):
    return SimpleUploadedFile(name, data)


def test_only_the_parts_that_the_tile_has_are_offered(mine, tile, member):
    words = [str(label) for _value, label in mine.get(page(tile)).context["form"].fields["zone"].choices]
    assert words == [
        "the whole tile",
        "On its own: Weir Ash (lip, top of the outside)",
        "Where they overlap: Weir Ash → Weir Blue (middle of the outside)",
        "On its own: Weir Blue (bottom of the outside)",
    ]
    one = make.fired_tile(by=member)
    assert len(mine.get(page(one)).context["form"].fields["zone"].choices) == 1
    answer = mine.post(page(one), said(zone="overlap:", surface="dry"))
    assert "zone" in answer.context["form"].errors


def test_a_look_with_its_faults_and_its_photo(mine, tile, member):
    zone = tile.zones.get(kind="overlap")
    typed = said(
        zone=f"overlap:{zone.combination_id}",
        surface="satin",
        movement_mm="2,5",
        fault_crazing="on",
        where_crazing="rim",
        where_pinholing="left by accident",
        colour="bluish",
        photo=file(photo_files.jpeg((300, 500))),
        caption="front",
    )
    assert mine.post(page(tile), typed)["Location"] == tile.get_absolute_url()
    look = tile.outcomes.get()
    assert (look.zone, look.combination, look.by) == ("overlap", zone.combination, member)
    assert (look.surface, str(look.movement_mm), look.colour) == ("satin", "2.5", "bluish")
    assert [(fault.kind, fault.where) for fault in look.faults.all()] == [("crazing", "rim")]
    photo = tile.photos.get()
    assert (photo.outcome, photo.caption) == (look, "front")


def test_a_bad_photo_keeps_everything_typed_and_saves_nothing(mine, tile):
    before = tile.version
    typed = said(surface="satin", colour="bluish", fault_crazing="on", where_crazing="rim", caption="front")
    answer = mine.post(page(tile), {**typed, "photo": file(photo_files.bad("cut-half.jpg"), "evening.jpg")})
    form = answer.context["form"]
    for field in typed:
        assert form[field].value() in (typed[field], True)
    assert "“evening.jpg”" in str(form.non_field_errors())
    assert "damaged or was cut off" in str(form.errors["photo"])
    tile.refresh_from_db()
    assert (tile.version, Outcome.objects.count(), Photo.objects.count()) == (before, 0, 0)


def test_a_good_photo_beside_a_mistake_is_asked_for_again(mine, tile):
    answer = mine.post(
        page(tile), said(surface="satin", movement_mm="far", photo=file(photo_files.jpeg((300, 500))))
    )
    form = answer.context["form"]
    assert set(form.errors) == {"movement_mm", "photo"}
    assert "Choose the photo again" in str(form.errors["photo"])
    assert not Photo.objects.exists()


def test_the_photo_of_a_refused_look_is_not_kept(mine, tile):
    answer = mine.post(page(tile), said(photo=file(photo_files.jpeg((300, 500)))))
    assert "Say at least one thing" in str(answer.context["form"].non_field_errors())
    assert (Outcome.objects.count(), Photo.objects.count()) == (0, 0)


def test_a_tile_that_was_not_fired_says_what_to_do_first(mine, member):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze()}])
    answer = mine.post(page(tile), said(surface="satin"))
    assert "has not been fired yet" in str(answer.context["form"].non_field_errors())
    assert answer.context["form"]["surface"].value() == "satin"


def test_whoever_is_late_may_send_again(mine, tile, technician):
    old = tile.version
    record_outcome(by=technician, tile=tile, surface="dry")
    late = mine.post(page(tile), said(surface="satin", version=old))
    assert late.status_code == 409
    form = late.context["form"]
    assert form["surface"].value() == "satin"
    mine.post(page(tile), said(surface="satin", version=form["version"].value()))
    assert tile.outcomes.count() == 2


def test_anybody_who_sees_the_tile_may_look(client, tile, people):
    client.force_login(people["other"])
    client.post(page(tile), said(surface="satin"))
    assert tile.outcomes.get().by == people["other"]
