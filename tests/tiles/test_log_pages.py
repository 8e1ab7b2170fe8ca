"""The pages on which a tile is found, numbered and glazed."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from tests import make
from tiles.actions import add_layer, in_hand, take_in_hand
from tiles.models import Layer, Tile


@pytest.fixture
def mine(client, member):
    """The member's browser."""
    client.force_login(member)
    return client


def layer_fields(**fields):
    return {"method": "dip", "coats": 1, "area": "whole", "ground": "bisque", **fields}


def log_page(tile):
    return reverse("tiles:log", args=[tile.number])


def test_a_known_number_in_any_case_leads_to_its_log(mine, member):
    make.tile("A12", by=member)
    answer = mine.post(reverse("tiles:log-start"), {"number": " a12 "})
    assert answer["Location"] == "/t/A12/log"


def test_an_unknown_number_is_kept_and_offered(mine, member):
    answer = mine.post(reverse("tiles:log-start"), {"number": "old-7"}, follow=True)
    assert answer.context["form"]["number"].value() == "old-7"
    answer = mine.post(answer.request["PATH_INFO"], {"number": "old-7", "visibility": "mine", "form": "flat"})
    tile = Tile.objects.get(number="old-7")
    assert (tile.maker, tile.visibility, tile.form) == (member, "mine", "flat")
    assert answer["Location"] == log_page(tile)


def test_a_refused_number_keeps_everything_typed(mine, people):
    make.tile("7", by=people["other"], visibility="mine")
    typed = {"number": "7", "visibility": "studio", "form": "L-shaped"}
    answer = mine.post(reverse("tiles:number-add"), typed)
    assert "This number is on another tile" in str(answer.context["form"].errors["number"])
    assert answer.context["form"]["form"].value() == "L-shaped"


def test_somebody_elses_tile_is_named_with_its_maker(mine, people):
    make.tile("7", by=people["other"])
    answer = mine.post(reverse("tiles:log-start"), {"number": "7"})
    assert "Second Member" in str(answer.context["form"].errors["number"])


def test_a_bare_back_gets_the_next_number_and_keeps_the_scanned_bucket(mine, member):
    fill, body = make.fill(), make.body()
    make.tile("1", by=member)
    answer = mine.post(reverse("tiles:number-bare"), {"body": body.pk, "from_fill": fill.pk}, follow=True)
    (tile,) = answer.context["tiles"]
    assert (tile.number, tile.body, tile.maker) == ("2", body, member)
    assert f"/t/2/log?fill={fill.pk}" in answer.content.decode()
    assert "iron oxide" in answer.content.decode()


def test_a_run_is_shown_in_the_order_of_its_numbers(mine):
    answer = mine.post(reverse("tiles:number-reserve"), {"count": 11, "prefix": "s"}, follow=True)
    assert [tile.number for tile in answer.context["tiles"]] == [f"S{n}" for n in range(1, 12)]


def test_opening_the_log_takes_the_tile_in_hand_and_a_lid_offers_its_next_coat(mine, member):
    fill, tile = make.fill(), make.tile("312", by=member)
    lid = f"/b/{fill.bucket.code}"
    assert "Log a tile" in mine.get(lid).content.decode()
    mine.get(log_page(tile))
    assert in_hand(member) == tile
    shown = mine.get(lid).content.decode()
    assert "Next coat on tile 312" in shown
    assert f"{log_page(tile)}?fill={fill.pk}" in shown
    # The hand may hold another one by now.
    assert f'href="{reverse("tiles:log-start")}?fill={fill.pk}">Log another tile<' in shown
    mine.post(reverse("tiles:tile-hand", args=[tile.number]), {"do": "lay_down"})
    assert in_hand(member) is None


def test_a_visitor_is_offered_no_coat(client, member):
    fill = make.fill()
    take_in_hand(by=member, tile=make.tile("312", by=member))
    answer = client.get(f"/b/{fill.bucket.code}")
    assert answer.status_code == 200
    assert "312" not in answer.content.decode()


def test_the_scanned_bucket_is_the_first_chip_and_chosen(mine, member):
    used, scanned = make.fill(), make.fill()
    tile = make.tile(by=member, layers=[{"fill": used}])
    form = mine.get(f"{log_page(tile)}?fill={scanned.pk}").context["form"]
    assert [value for value, _words in form.fields["fill"].choices] == [str(scanned.pk), str(used.pk), ""]
    assert form["fill"].value() == str(scanned.pk)
    assert mine.get(f"{log_page(tile)}?fill=nonsense").context["form"]["fill"].value() == ""


def test_a_layer_goes_on_top_with_what_was_said(mine, member):
    fill, glaze = make.fill(), make.glaze()
    tile = make.tile(by=member)
    mine.post(log_page(tile), layer_fields(other_fill=fill.pk, dip_seconds="2,5", version=tile.version))
    before = timezone.now()
    mine.post(log_page(tile), layer_fields(glaze=glaze.pk, area="upper", when_unknown="on"))
    first, second = tile.layers.order_by("position")
    assert (first.fill, first.glaze, str(first.dip_seconds)) == (fill, fill.glaze, "2.5")
    assert before - timedelta(minutes=1) < first.applied_at <= timezone.now()
    assert (second.glaze, second.fill, second.area, second.applied_at) == (glaze, None, "upper", None)


@pytest.mark.parametrize(
    ("choice", "field"),
    [
        (lambda fill, glaze: {}, "other_fill"),
        (lambda fill, glaze: {"other_fill": fill.pk, "glaze": glaze.pk}, "__all__"),
        (lambda fill, glaze: {"glaze": glaze.pk, "coats": 13}, "coats"),
        (lambda fill, glaze: {"glaze": glaze.pk, "dip_seconds": "long"}, "dip_seconds"),
        (lambda fill, glaze: {"other_fill": fill.pk, "applied_at": "2001-01-01T10:00"}, "applied_at"),
    ],
    ids=["nothing chosen", "two chosen", "too many coats", "no number", "before the fill"],
)
def test_what_cannot_be_saved_comes_back_as_typed(mine, member, choice, field):
    tile = make.tile(by=member)
    typed = layer_fields(tool="the wide brush", **choice(make.fill(), make.glaze()))
    answer = mine.post(log_page(tile), typed)
    assert answer.status_code == 200
    assert field in answer.context["form"].errors
    assert answer.context["form"]["tool"].value() == "the wide brush"
    assert not tile.layers.exists()


def test_whoever_is_late_sees_the_tile_as_it_is_and_may_send_again(mine, member, technician):
    tile, glaze = make.tile(by=member), make.glaze("Weir Ash")
    old = tile.version
    add_layer(by=technician, tile=tile, glaze=make.glaze("Lock Green"))
    late = mine.post(log_page(tile), layer_fields(glaze=glaze.pk, tool="a hake", version=old))
    assert late.status_code == 409
    shown = late.content.decode()
    assert "Somebody else changed this" in shown
    assert "Lock Green" in shown
    form = late.context["form"]
    assert (form["tool"].value(), form["version"].value()) == ("a hake", tile.version)
    mine.post(log_page(tile), layer_fields(glaze=glaze.pk, version=form["version"].value()))
    assert [layer.glaze.name for layer in tile.layers.all()] == ["Lock Green", "Weir Ash"]


@pytest.mark.parametrize("how", ["fragment", "button"])
def test_what_is_said_of_a_layer_before_it_is_saved(mine, member, how):
    fill, tile = make.fill(), make.tile(by=member)
    shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    fields = layer_fields(other_fill=fill.pk)
    if how == "fragment":
        answer = mine.post(reverse("tiles:layer-check", args=[tile.number]), fields)
        assert "<html" not in answer.content.decode()
    else:
        answer = mine.post(log_page(tile), {**fields, "check": "1"})
    assert [found.code for found in answer.context["findings"]] == ["fill_do_not_use"]
    assert "Something else has got into it" in answer.content.decode()
    assert not Layer.objects.exists()


def test_a_check_of_half_a_form_says_what_it_can(mine, member):
    tile = make.tile(by=member)
    check = reverse("tiles:layer-check", args=[tile.number])
    under = make.glaze(kind="underglaze", low=None, high=None)
    answer = mine.post(check, {"glaze": under.pk, "coats": "", "area": "all over"})
    assert [found.code for found in answer.context["findings"]] == ["underglaze_uncovered"]
    assert mine.post(check, {}).context["findings"] == []


def test_a_stop_is_said_before_loading_and_again_when_refused(mine, member):
    tile, firing = make.tile(by=member, body=make.body(low="04", high="02")), make.firing(target="6")
    check = mine.post(reverse("tiles:layer-check", args=[tile.number]), {"firing": firing.pk})
    assert "clay body is made for" in check.content.decode()
    load = reverse("tiles:log-load", args=[tile.number])
    refused = mine.post(load, {"firing": firing.pk, "position": "top"})
    assert refused.context["load_form"]["position"].value() == "top"
    assert "clay body is made for" in str(refused.context["load_form"].errors)
    assert "override_reason" not in refused.context["load_form"].fields
    assert not tile.tile_firings.exists()


def test_a_technician_may_load_it_with_a_reason(client, member, technician):
    tile, firing = make.tile(by=member, body=make.body(low="04", high="02")), make.firing(target="6")
    client.force_login(technician)
    load = reverse("tiles:log-load", args=[tile.number])
    client.post(load, {"firing": firing.pk, "override_reason": "in a dish"})
    assert tile.tile_firings.get().override_reason == "in a dish"


def test_a_correction_changes_what_differs_and_keeps_the_rest(mine, member):
    fill = make.fill(make.glaze(sg_high="1.50", sg_low="1.40"), sg="1.55")
    tile = make.tile(by=member, layers=[{"fill": fill, "coats": 1}])
    layer = tile.layers.get()
    put_on = layer.applied_at
    shelf.raise_flag(by=member, fill=fill, kind="wrong_label")
    page = reverse("tiles:layer-correct", args=[tile.number, layer.pk])
    shown = mine.get(page).context["form"]
    assert "when_unknown" not in shown.fields
    typed = {name: shown[name].value() for name in shown.fields if shown[name].value() is not None}
    typed["applied_at"] = timezone.localtime(put_on).strftime("%Y-%m-%dT%H:%M")
    mine.post(page, {**typed, "coats": 3})
    layer.refresh_from_db()
    assert (layer.coats, layer.fill, layer.applied_at, layer.use_then) == (3, fill, put_on, "ask")


def test_an_emptied_bucket_is_still_what_the_layer_came_out_of(mine, member, technician):
    fill = make.fill()
    tile = make.tile(by=member, layers=[{"fill": fill}])
    shelf.end_fill(by=technician, fill=fill, why="used up")
    page = reverse("tiles:layer-correct", args=[tile.number, tile.layers.get().pk])
    assert mine.get(page).context["form"]["other_fill"].value() == str(fill.pk)
    mine.post(page, layer_fields(other_fill=fill.pk, coats=2))
    assert (tile.layers.get().fill, tile.layers.get().coats) == (fill, 2)


def test_a_layer_is_taken_away_unless_the_tile_changed_meanwhile(mine, member):
    tile = make.tile(by=member, layers=[{"glaze": make.glaze()}, {"glaze": make.glaze()}])
    first, second = tile.layers.order_by("position")
    away = reverse("tiles:layer-away", args=[tile.number, first.pk])
    assert mine.post(away, {"version": tile.version - 1}).status_code == 409
    tile.refresh_from_db()
    mine.post(away, {"version": tile.version, "reason": "never put on"})
    second.refresh_from_db()
    assert (list(tile.layers.all()), second.position) == ([second], 1)
