"""Clay bodies: the list, new, changed, put away; and what cannot be written down."""

from decimal import Decimal

import pytest
from django.urls import reverse

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of
from tests.tiles.counting import same_for_more
from tiles import actions
from tiles.models import ClayBody

LIST, NEW = "/bodies/", "/bodies/new/"
GOOD = {"name": "Weir Stoneware", "bisque_cone": "04", "cone_low": "5", "cone_high": "7", "colour": "buff"}


def test_a_new_body_stands_in_the_list_with_its_cones_in_degrees(tech):
    response = tech.post(NEW, {**GOOD, "absorption_percent": "2.5"}, follow=True)
    assert response.redirect_chain == [(LIST, 302)]
    shown = text_of(response)
    # 1186, 1239 and 1063 °C: fixtures/cones.csv.
    for words in (
        "cone 5 (1186 °C) to cone 7 (1239 °C)",
        "bisque at cone 04 (1063 °C)",
        "absorbs 2.5 %",
        "buff",
    ):
        assert words in shown
    body = ClayBody.objects.get()
    assert (body.cone_low, body.cone_high, body.bisque_cone) == tuple(map(make.cone, ("5", "7", "04")))


BAD = [
    ({"name": ""}, "name", "required"),
    ({"name": "SLUICE RED"}, "", "There is a clay body of this name already"),
    ({"cone_low": "7", "cone_high": "5"}, "", "the cooler one first"),
    ({"cone_low": "6", "cone_high": "06"}, "", "06 is cooler than 6"),
    ({"cone_high": ""}, "", "Give both cones"),
    ({"bisque_cone": "23"}, "bisque_cone", "There is no cone 23"),
    ({"absorption_percent": "41"}, "absorption_percent", "40"),
    ({"absorption_percent": "-1"}, "absorption_percent", "0"),
    ({"absorption_percent": "a lot"}, "absorption_percent", "number"),
    ({"expansion": "1000"}, "expansion", "digits"),
    ({"colour": "plaid"}, "colour", "plaid"),
]


@pytest.mark.parametrize(("fields", "field", "words"), BAD, ids=[b[2] + b[1] for b in BAD])
def test_what_cannot_be_used_is_said_at_its_field_and_stays_typed(tech, fields, field, words):
    make.body("Sluice Red")
    response = tech.post(NEW, {**GOOD, "remark": "from the old tin", **fields})
    assert response.status_code == 200
    errors = response.context["form"].errors
    assert words in " ".join(errors.get(field or "__all__", []))
    assert "from the old tin" in response.content.decode()
    assert ClayBody.objects.count() == 1


def test_a_change_is_kept_with_its_history(tech):
    body = make.body("Weir Stoneware", remark="new bags in March")
    address = reverse("tiles:body", args=[body.pk])
    page = tech.get(address)
    assert 'value="04"' in page.content.decode()
    assert "new bags in March" in page.content.decode()
    tech.post(address, {**GOOD, "cone_low": "6", "version": body.version})
    body.refresh_from_db()
    assert (body.cone_low, body.remark) == (make.cone("6"), "")
    change = Change.objects.filter(object_id=body.pk, verb="changed").get()
    assert (change.before["cone_low"], change.after["cone_low"]) == ("5", "6")


def test_who_edits_an_old_version_gets_both_to_compare(tech, manager):
    body = make.body("Weir Stoneware")
    stale = body.version
    actions.change_body(by=manager, obj=body, values={"remark": "theirs"}, version=stale)
    address = reverse("tiles:body", args=[body.pk])
    response = tech.post(address, {**GOOD, "remark": "mine", "version": stale})
    assert response.status_code == 409
    assert {"mine", "theirs"} <= set(text_of(response).split())
    body.refresh_from_db()
    assert body.remark == "theirs"


def test_a_body_that_is_put_away_is_offered_no_more_but_not_lost(tech):
    body, kept = make.body("Weir Stoneware"), make.body("Sluice Red")
    tile = make.tile(body=body)
    address = reverse("tiles:body-archive", args=[body.pk])
    tech.post(address, {"version": body.version, "reason": "no longer sold"})
    assert [b.name for b in tech.get(LIST).context["rows"]] == [kept.name]
    assert [b.name for b in tech.get(LIST, {"archived": "true"}).context["rows"]] == [body.name]
    tile.refresh_from_db()
    assert tile.body == body
    assert Change.objects.get(object_id=body.pk, verb="archived").reason == "no longer sold"
    again = tech.post(address, {"version": ClayBody.objects.get(pk=body.pk).version})
    assert "put away already" in text_of(again)


def test_only_technicians_and_managers_change_the_clay(people):
    body = make.body()
    for act in (
        lambda by: actions.create_body(by=by, name="Another"),
        lambda by: actions.change_body(by=by, obj=body, values={"remark": "x"}),
        lambda by: actions.archive(by=by, obj=body),
    ):
        with pytest.raises(NotAllowed):
            act(people["member"])
        act(people["technician"])


def test_a_member_reads_the_list_without_ways_to_change_it(client, member):
    make.body("Weir Stoneware")
    client.force_login(member)
    html = client.get(LIST).content.decode()
    assert "Weir Stoneware" in html
    assert NEW not in html
    assert '<a href="/bodies/' not in html


def test_the_empty_list_offers_the_first_step(tech):
    assert f'href="{NEW}"' in tech.get(LIST).content.decode()


def test_a_filter_that_does_not_exist_is_named(tech):
    make.body("Weir Stoneware")
    shown = text_of(tech.get(LIST, {"archive": "true"}))
    assert "Did you mean archived?" in shown
    assert "Weir Stoneware" not in shown


def test_more_bodies_ask_no_more_queries(tech):
    same_for_more(tech, LIST, lambda n: [make.body() for _ in range(n)])


@pytest.mark.parametrize("percent", ["-0.1", "40.1"])
def test_an_absorption_that_cannot_be_is_refused_whoever_sends_it(studio, percent):
    for act in (
        lambda: actions.create_body(by=make.manager(), name="Sponge", absorption_percent=Decimal(percent)),
        lambda: actions.change_body(
            by=make.manager(), obj=make.body(), values={"absorption_percent": Decimal(percent)}
        ),
    ):
        with pytest.raises(Refused) as refused:
            act()
        assert "between 0 and 40 %" in refused.value.problems["absorption_percent"][0]


def test_an_old_version_is_not_put_away(technician, manager):
    body = make.body()
    with pytest.raises(Exception, match="Somebody else changed this"):
        actions.archive(by=technician, obj=body, version=body.version + 1)
    with pytest.raises(Refused):
        actions.archive(by=technician, obj=body) and actions.archive(by=technician, obj=body)
