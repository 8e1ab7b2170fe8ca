"""The SG round: one bucket at a time in walking order, one number each, and what each of them wants."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from rest_framework.test import APIClient

from inventory import actions as shelf
from inventory.models import Fill, Reading, SgRound
from studio.errors import Refused
from tests import make
from tests.reading import text_of


@pytest.fixture
def three(manager):
    """Three buckets, made in another order than that of the walk; each holds 5 L and wants 1.44 to 1.50."""
    found = {}
    for order, name in ((3, "Rear"), (1, "Door"), (2, "Middle")):
        place = shelf.create_place(by=manager, name=f"{name} board", order=order)
        glaze = make.glaze(f"{name} Glaze", sg_low=Decimal("1.44"), sg_high=Decimal("1.50"))
        found[name] = make.fill(glaze, bucket_=make.bucket(place=place), level="half")
    return found


@pytest.fixture
def going(member, three):
    return shelf.start_round(by=member, cup_ml=Decimal(100), cup_g=Decimal(40))


def at(sg_round, page="walk"):
    return reverse(f"inventory:round-{page}", args=[sg_round.pk])


def test_the_round_goes_past_the_shelf_in_walking_order_and_leaves_own_jars_out(client, member, three):
    make.fill(bucket_=make.bucket(by=member, owner=member), by=member)
    client.force_login(member)
    answer = client.post(reverse("inventory:round"), {"cup_ml": "100", "cup_g": "40,5"})
    sg_round = SgRound.objects.get()
    assert answer["Location"] == at(sg_round)
    assert [s.fill.glaze.name for s in sg_round.stops.all()] == ["Door Glaze", "Middle Glaze", "Rear Glaze"]
    assert (sg_round.cup_ml, sg_round.cup_g) == (Decimal(100), Decimal("40.5"))


def test_the_cup_of_one_s_own_last_round_is_remembered(client, people, going):
    shelf.finish_round(by=people["member"], sg_round=going)
    others = shelf.start_round(by=people["other"], cup_ml=Decimal(250), cup_g=Decimal(70))
    shelf.finish_round(by=people["other"], sg_round=others)
    client.force_login(people["member"])
    page = client.get(reverse("inventory:round")).content.decode()
    assert 'value="100.0"' in page
    assert 'value="40.0"' in page


def test_one_number_is_a_reading_and_the_next_bucket_comes_with_the_answer_for_this_one(
    client, member, three, going
):
    client.force_login(member)
    first = client.get(at(going))
    assert "Door Glaze" in first.content.decode()
    assert "Middle Glaze" not in first.content.decode().split("All buckets of this round")[0]
    field = first.content.decode().split('name="gross_g"')[1].split(">")[0]
    assert "autofocus" in field
    assert 'inputmode="decimal"' in field
    answer = client.post(at(going), {"stop": "1", "gross_g": "195"}, follow=True)
    # (195 - 40) g in 100 mL is 1.55; 5 L of it want 5000 * 0.08 / 0.47 = 851 mL to 1.47 (inventory/calc/slurry.py).
    assert Reading.objects.get(fill=three["Door"]).specific_gravity == Decimal("1.55")
    said = text_of(answer)
    assert "Door Glaze: 1.55 Add about 850 mL of water to reach 1.47. Then stir, wait, weigh again." in said
    assert "1 of 3 measured" in said
    assert answer.context["stop"].fill == three["Middle"]


def test_published_correction_c_through_the_page(client, member, manager):
    """16.8 L at 1.5 give off 5.6 L to reach 1.75: S. Altmann, http://www.potters.org/subject13664.htm"""
    glaze = make.glaze("Altmann Slip", sg_low=Decimal("1.74"), sg_high=Decimal("1.76"))
    fill = make.fill(glaze, bucket_=make.bucket(capacity_ml=20000))
    shelf.add_stock_entry(by=member, fill=fill, kind="level", volume_ml=Decimal(16800))
    sg_round = shelf.start_round(by=member)
    client.force_login(member)
    answer = client.post(at(sg_round), {"stop": "1", "gross_g": "150"}, follow=True)
    assert "Take about 5.6 L of clear water off the top to reach 1.75." in text_of(answer)
    assert "take 5.6 L of water off the top" in text_of(client.get(at(sg_round, "summary")))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"gross_g": "90"}, "this cup (100 mL, empty 40 g) weighs between 140 and 290 g when it is full."),
        ({"gross_g": "1470"}, "1470 g cannot be right"),
        ({"gross_g": "abc"}, "Enter a number."),
        ({"gross_g": "-5"}, "greater than or equal to 0"),
        ({}, "Give the weight of the full cup, or the specific gravity; one of them."),
        ({"gross_g": "187", "specific_gravity": "1.47"}, "one of them"),
        ({"specific_gravity": "147"}, "Did you mean 1.47?"),
    ],
)
def test_a_weight_that_cannot_be_is_refused_and_kept(client, member, going, typed, sentence):
    client.force_login(member)
    answer = client.post(at(going), {"stop": "2", **typed})
    assert sentence in text_of(answer)
    assert answer.context["stop"].order == 2
    for value in typed.values():
        assert f'value="{value}"' in answer.content.decode()
    assert not Reading.objects.exists()


def test_what_was_passed_over_can_be_returned_to_and_then_the_round_is_done(client, member, going):
    client.force_login(member)
    answer = client.post(at(going, "pass"), {"stop": "1", "why": "used"}, follow=True)
    assert answer.context["stop"].order == 2
    client.post(at(going), {"stop": "2", "gross_g": "187"})
    over = client.post(at(going), {"stop": "3", "specific_gravity": "1,46"}, follow=True)
    assert "Every bucket was reached" in text_of(over)
    assert "Door Glaze" in text_of(over)
    going.refresh_from_db()
    assert going.finished_at is None
    back = client.get(at(going) + "?stop=1")
    assert back.context["stop"].order == 1
    client.post(at(going), {"stop": "1", "gross_g": "187"})
    going.refresh_from_db()
    assert going.finished_at is not None
    assert set(going.stops.values_list("state", "why")) == {("measured", "")}


def test_the_second_of_two_people_gets_a_sentence_and_records_nothing(client, people, three, going):
    shelf.measure_stop(
        by=people["other"], sg_round=going, stop=going.stops.get(order=1), gross_g=Decimal(187)
    )
    client.force_login(people["member"])
    answer = client.post(at(going), {"stop": "1", "gross_g": "195"}, follow=True)
    assert answer.status_code == 200
    said = text_of(answer)
    assert "Somebody measured this bucket meanwhile. Go on with the next. Your 195 for Door Glaze" in said
    assert answer.context["stop"].order == 2
    assert 'value="195"' not in answer.content.decode()
    assert [r.specific_gravity for r in three["Door"].readings.all()] == [Decimal("1.470")]


@pytest.mark.parametrize("said", [{"gross_g": "187"}, {"specific_gravity": "1.47"}])
def test_a_number_that_is_sent_twice_is_recorded_once_and_nobody_is_blamed(client, member, going, said):
    client.force_login(member)
    for order in (1, 2, 3):
        typed = {"stop": str(order), **said}
        first, again = client.post(at(going), typed), client.post(at(going), typed)
        assert first["Location"] == again["Location"] == f"{at(going)}?done={order}"
        assert "not recorded" not in text_of(client.get(again["Location"]))
    assert Reading.objects.count() == 3


def test_one_round_is_open_at_a_time_and_a_finished_one_takes_nothing(client, people, going):
    with pytest.raises(Refused, match="going on already"):
        shelf.start_round(by=people["other"])
    client.force_login(people["other"])
    assert "Go on" in text_of(client.get(reverse("inventory:round")))
    client.post(at(going, "finish"))
    answer = client.post(at(going), {"stop": "1", "gross_g": "187"}, follow=True)
    assert "This round is finished" in text_of(answer)
    assert not Reading.objects.exists()


def test_a_bucket_that_was_emptied_meanwhile_is_passed_over(client, people, three, going):
    shelf.end_fill(by=people["technician"], fill=three["Door"], why="used up")
    client.force_login(people["member"])
    answer = client.post(at(going), {"stop": "1", "gross_g": "187"})
    assert "What was in this bucket has ended meanwhile. Pass it over." in text_of(answer)
    assert not Reading.objects.exists()


def test_another_cup_counts_from_here_on(client, member, going):
    client.force_login(member)
    client.post(at(going, "cup"), {"cup_ml": "200", "cup_g": "0"})
    client.post(at(going), {"stop": "1", "gross_g": "306"})
    # 306 g in 200 mL: T. Buck, http://www.potters.org/subject95505.htm
    assert Reading.objects.get().specific_gravity == Decimal("1.53")


def test_the_summary_says_what_each_wanted_then(client, member, three, going):
    for order, sg in ((1, "1.55"), (2, "1.40")):
        shelf.measure_stop(
            by=member, sg_round=going, stop=going.stops.get(order=order), specific_gravity=Decimal(sg)
        )
    shelf.pass_stop(by=member, sg_round=going, stop=going.stops.get(order=3), why="not here")
    shelf.add_stock_entry(by=member, fill=three["Door"], kind="water", volume_ml=Decimal(850))
    client.force_login(member)
    answer = client.get(at(going, "summary"))
    said = text_of(answer)
    assert [row.stop.order for row in answer.context["rows"]] == [1, 2, 3]
    assert "add 850 mL of water" in said
    assert "take 740 mL of water off the top" in said
    assert "passed over: not here" in said


def test_the_api_walks_the_same_round(member, three):
    api = APIClient()
    api.force_login(member)
    made = api.post("/api/v1/sg-rounds/", {"cup_ml": "100", "cup_g": "40"}, format="json").json()
    assert [(s["stop"], s["state"]) for s in made["stops"]] == [(1, "to_do"), (2, "to_do"), (3, "to_do")]
    address = f"/api/v1/sg-rounds/{made['id']}/"
    after = api.post(address + "measure/", {"stop": 1, "gross_g": "195"}, format="json").json()
    first = after["stops"][0]
    assert (first["reading"]["specific_gravity"], first["side"], first["water_to_add_ml"]) == (
        "1.550",
        "thick",
        "850",
    )
    again = api.post(address + "measure/", {"stop": 1, "gross_g": "195"}, format="json")
    assert again.status_code == 400
    assert "Somebody measured this bucket meanwhile" in again.json()["detail"]
    for body, field in (
        ({"stop": 9, "gross_g": "187"}, "stop"),
        ({"stop": 2}, "gross_g"),
        ({"stop": 2, "gross_g": "15"}, "gross_g"),
        ({"stop": 2, "weight": "187"}, "weight"),
    ):
        refused = api.post(address + "measure/", body, format="json")
        assert (refused.status_code, refused.json()["errors"][0]["field"]) == (400, field)
    thin = api.post(address + "measure/", {"stop": 2, "specific_gravity": "1.4"}, format="json").json()
    assert thin["stops"][1]["water_to_add_ml"] == "-740"
    api.post(address + "pass/", {"stop": 3, "why": "empty"}, format="json")
    done = api.post(address + "finish/", {}, format="json").json()
    assert done["finished_at"] is not None
    assert done["stops"][2]["why"] == "empty"
    listed = api.get("/api/v1/sg-rounds/").json()["results"]
    assert [row["id"] for row in listed] == [made["id"]]
    assert "stops" not in listed[0]


def test_a_reading_of_the_round_is_an_ordinary_one(member, three, going):
    shelf.measure_stop(by=member, sg_round=going, stop=going.stops.get(order=1), gross_g=Decimal(187))
    fill = Fill.objects.with_standing().get(pk=three["Door"].pk)
    assert (fill.sg, fill.use) == (Decimal("1.470"), "use")
    assert timezone.now() - fill.sg_at < timedelta(minutes=2)
