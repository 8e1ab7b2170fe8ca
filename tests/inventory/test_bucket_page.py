"""`/b/<code>`: what a visitor may read, what the studio reads, and how a code is found that was misread."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Bucket
from studio.models import Studio
from tests import make
from tests.reading import text_of


@pytest.fixture
def peopled(studio):
    """A bucket with everything that can hang on it; every name of a person, and all that people wrote, is marked."""
    manager = make.person("manager", name="Xanthippe Qone")
    member = make.person("member", name="Xanthippe Qtwo")
    glaze = make.glaze(
        "Sluice Clear",
        by=manager,
        origin="bought",
        sg_low=Decimal("1.40"),
        sg_high=Decimal("1.46"),
        health_statement="Contains silica.",
        claim="Xanthippe claims",
        remark="Xanthippe remarks",
    )
    place = shelf.create_place(by=manager, name="Xanthippe's shelf")
    bucket = make.bucket(by=manager, place=place, remark="Xanthippe's bucket")
    old = make.fill(make.glaze("Old Glaze", by=manager), bucket_=bucket, by=manager, days_ago=90)
    shelf.end_fill(
        by=manager, fill=old, why="Xanthippe emptied it", ended_at=timezone.now() - timedelta(days=80)
    )
    fill = make.fill(
        glaze,
        bucket_=bucket,
        by=manager,
        lot="Xanthippe-7",
        label="food_safe",
        label_condition="cone 6, used alone",
        remark="Xanthippe keeps it",
        level="half",
    )
    shelf.add_reading(by=member, fill=fill, specific_gravity=Decimal("1.52"), remark="Xanthippe read it")
    shelf.add_stock_entry(by=member, fill=fill, kind="level", level="quarter", remark="Xanthippe saw it")
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated", note="Xanthippe dropped a sponge")
    shelf.raise_flag(by=manager, fill=fill, kind="contaminated", note="Xanthippe again")
    shelf.raise_flag(by=member, fill=fill, kind="not_for_food", note="Xanthippe thinks")
    make.tile("XQ1", by=member, layers=[{"fill": fill}])
    return {"bucket": bucket, "fill": fill, "flag": flag, "member": member, "manager": manager}


def test_a_visitor_reads_name_standing_and_cautions_on_both_axes(client, peopled):
    said = text_of(client.get(peopled["bucket"].get_absolute_url()))
    assert "Sluice Clear" in said
    assert "Do not use" in said
    assert "Something else has got into it" in said
    assert "Its specific gravity is 1.52, above the wanted 1.46" in said
    assert "Keep away from food" in said
    assert "It is flagged “not for food”" in said
    assert "Contains silica." in said
    assert "On condition: cone 6, used alone." in said


def test_what_is_contaminated_is_kept_from_food_whatever_its_label_says(client, studio):
    fill = make.fill(make.glaze("Sluice Clear"))
    address, warned = (
        fill.bucket.get_absolute_url(),
        "Until a technician clears it, keep it off anything that food",
    )
    assert warned not in text_of(client.get(address))
    flag = shelf.raise_flag(by=make.person("member"), fill=fill, kind="contaminated")
    assert warned in text_of(client.get(address))
    shelf.clear_flag(by=make.manager(), flag=flag, outcome="mistaken", note="a shadow")
    assert warned not in text_of(client.get(address))


def test_a_visitor_reads_no_person_and_nothing_that_people_wrote(client, peopled):
    page = client.get(peopled["bucket"].get_absolute_url()).content.decode()
    assert "Xanthippe" not in page
    assert "Qone" not in page
    assert "Old Glaze" not in page
    client.force_login(peopled["member"])
    # The same bucket for the studio, so that the marks above are known to be there.
    assert client.get(peopled["bucket"].get_absolute_url()).content.decode().count("Xanthippe") >= 10


def test_the_manager_may_close_the_page_to_visitors(client, peopled):
    Studio.objects.update(bucket_pages_open=False)
    for address in (peopled["bucket"].get_absolute_url(), "/b/ZZZZZZ", "/b/?code=ZZZZZZ"):
        answer = client.get(address)
        assert answer.status_code == 302
        assert answer["Location"].startswith(reverse("studio:login"))
    client.force_login(peopled["member"])
    assert client.get(peopled["bucket"].get_absolute_url()).status_code == 200


def test_the_studio_reads_who_and_what(client, peopled):
    client.force_login(peopled["member"])
    said = text_of(client.get(peopled["bucket"].get_absolute_url()))
    for expected in (
        "Do not use",
        "Keep away from food",
        "Record SG",
        "cone 5 (1186 °C) to cone 6 (1222 °C)",  # Orton's end points at 60 °C/h, fixtures/cones.csv
        "“food safe”, cone 6, used alone, read by Xanthippe Qone",
        "a quarter",
        "Xanthippe dropped a sponge",
        "Xanthippe again",
        "1.52",
        "Old Glaze",
    ):
        assert expected in said


def test_lid_food_and_buttons_come_before_everything_else(client, peopled):
    client.force_login(peopled["member"])
    page = client.get(peopled["bucket"].get_absolute_url()).content.decode()
    order = [
        "Do not use</p>",
        "Keep away from food",
        "Record SG",
        ">Flag<",
        "What is flagged",
        "What is in it",
    ]
    assert sorted(order, key=page.index) == order


def test_clear_is_for_technicians_and_withdraw_for_the_raiser(client, peopled):
    address = peopled["bucket"].get_absolute_url()
    single = peopled["fill"].flags.get(kind="not_for_food")
    clear = reverse("inventory:flag-clear", args=[single.pk])
    withdraw = reverse("inventory:flag-withdraw", args=[single.pk])
    client.force_login(peopled["member"])
    page = client.get(address).content.decode()
    assert clear not in page
    assert withdraw in page
    # Of the other flag somebody else has spoken meanwhile.
    assert reverse("inventory:flag-withdraw", args=[peopled["flag"].pk]) not in page
    client.force_login(peopled["manager"])
    page = client.get(address).content.decode()
    assert clear in page
    assert withdraw not in page


def test_an_empty_bucket_is_not_said_to_be_usable(client, studio):
    bucket = make.bucket()
    said = text_of(client.get(bucket.get_absolute_url()))
    assert "Ask before you use it" in said
    assert "Use it" not in said


@pytest.mark.parametrize("typed", ["k7qm2p", "K7Q-M2P", "k7q m2p", "K70M2P", "KLQM2P", "kiom2p"])
def test_a_misread_code_leads_to_the_one_lid_that_it_can_be(client, studio, typed):
    Bucket.objects.filter(pk=make.bucket().pk).update(code="K7QM2P")
    for answer in (client.get(f"/b/{typed}"), client.get("/b/", {"code": typed})):
        assert answer.status_code == 302
        assert answer["Location"] == "/b/K7QM2P"


def test_a_code_read_differently_is_said(client, studio):
    Bucket.objects.filter(pk=make.bucket().pk).update(code="K7QM2P")
    said = text_of(client.get("/b/K70M2P", follow=True))
    assert "“K70M2P” was read as K7QM2P. Compare it with the lid." in said
    assert "was read as" not in text_of(client.get("/b/k7qm2p", follow=True))


def test_two_lids_that_a_code_can_be_are_offered_and_neither_is_guessed(client, studio):
    for code in ("K7QM2P", "K7DM2P"):
        Bucket.objects.filter(pk=make.bucket().pk).update(code=code)
    answer = client.get("/b/K70M2P")
    assert answer.status_code == 404
    assert {"/b/K7QM2P", "/b/K7DM2P"} <= set(answer.content.decode().split('"'))


def test_a_lid_that_looks_alike_is_offered_but_never_opened(client, studio):
    """B and 8 are both in use, so what was typed may be right."""
    Bucket.objects.filter(pk=make.bucket().pk).update(code="K7BM2P")
    answer = client.get("/b/K78M2P")
    assert answer.status_code == 404
    assert "/b/K7BM2P" in answer.content.decode()


@pytest.mark.parametrize("typed", ["ZZZZZZ", "Z", "ZZZZZZZZZZZZZ", "<b>'\"&"])
def test_an_unknown_code_gets_a_kind_page_that_keeps_it(client, studio, typed):
    answer = client.get("/b/", {"code": typed})
    assert answer.status_code == 404
    assert "No lid has this code" in text_of(answer)
    escaped = typed.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    escaped = escaped.replace('"', "&quot;").replace("'", "&#x27;")
    assert f'value="{escaped}"' in answer.content.decode()


def test_the_label_carries_the_address_that_lives_for_ever(client, member, settings):
    settings.PUBLIC_URL = "https://clay.example"
    fill = make.fill(make.glaze("Weir Green"))
    shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    client.force_login(member)
    page = client.get(reverse("inventory:bucket-label", args=[fill.bucket.code])).content.decode()
    assert f"https://clay.example/b/{fill.bucket.code}" in page
    assert "Weir Green" in page
    assert "<svg" in page
    assert "style=" not in page
    assert "Do not use" not in page


def test_without_a_public_address_the_label_says_what_to_set(client, member, settings):
    settings.PUBLIC_URL = ""
    client.force_login(member)
    bucket = make.bucket()
    said = text_of(client.get(reverse("inventory:bucket-label", args=[bucket.code])))
    assert "TILEKEEP_PUBLIC_URL" in said
    assert f"write {bucket.code} on the lid by hand" in said
