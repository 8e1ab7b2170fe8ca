"""Filling and ending, putting right what is noted, how much there is, and the vessels themselves."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Bucket, Fill, StockEntry
from studio.errors import Refused
from studio.roles import NotAllowed
from tests import make
from tests.reading import text_of


def day(n):
    return (timezone.localdate() - timedelta(days=n)).isoformat()


@pytest.fixture
def bought(manager):
    return make.glaze("Sluice Clear", by=manager, origin="bought")


def test_a_bucket_is_filled_on_one_page(client, technician, bought):
    bucket = make.bucket()
    client.force_login(technician)
    address = reverse("inventory:fill-new", args=[bucket.code])
    data = {
        "glaze": bought.pk,
        "lot": "L-4",
        "made_on": day(3),
        "level": "half",
        "label": "food_safe",
        "label_condition": "cone 6",
    }
    assert client.post(address, data)["Location"] == bucket.get_absolute_url()
    fill = Fill.objects.get()
    assert (fill.glaze, fill.lot, fill.level, fill.balance_ml) == (bought, "L-4", "half", Decimal(5000))
    assert (fill.label, fill.label_read_by, fill.label_read_on) == (
        "food_safe",
        technician,
        timezone.localdate(),
    )


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"glaze": ""}, "This field is required."),
        ({"made_on": day(-1)}, "This lies in the future. Give the day on which it was mixed or opened."),
        (
            {"started_at": f"{day(-2)}T10:00"},
            "This lies in the future. Give the moment at which it happened.",
        ),
        ({"started_at": "soon"}, "Enter a valid date/time."),
        ({"label": "blessed"}, "Select a valid choice"),
        ({"lot": "x" * 61}, "at most 60 characters"),
    ],
)
def test_a_refused_filling_keeps_what_was_typed(client, technician, bought, change, sentence):
    bucket = make.bucket()
    client.force_login(technician)
    data = {"glaze": bought.pk, "lot": "L-4", "label_condition": "cone 6 alone", "remark": "smells", **change}
    answer = client.post(reverse("inventory:fill-new", args=[bucket.code]), data)
    assert sentence in text_of(answer)
    page = answer.content.decode()
    for typed in ("cone 6 alone", "smells", data["lot"], data.get("started_at", ""), data.get("made_on", "")):
        assert typed in page
    assert not Fill.objects.exists()


def test_a_glaze_mixed_here_has_no_container_label(client, technician):
    bucket, mixed = make.bucket(), make.glaze(origin="mixed")
    client.force_login(technician)
    answer = client.post(
        reverse("inventory:fill-new", args=[bucket.code]), {"glaze": mixed.pk, "label": "food_safe"}
    )
    assert "A glaze mixed here has no container label" in text_of(answer)
    assert answer.context["form"]["label"].value() == "food_safe"


def test_a_full_bucket_takes_no_second_fill(client, technician, bought):
    fill = make.fill()
    client.force_login(technician)
    answer = client.post(reverse("inventory:fill-new", args=[fill.bucket.code]), {"glaze": bought.pk})
    assert "full of something else" in text_of(answer)


def test_ending_asks_how_and_keeps_the_rest(client, technician):
    fill = make.fill(level="half")
    client.force_login(technician)
    address = reverse("inventory:fill-end", args=[fill.pk])
    early = timezone.localtime(fill.started_at - timedelta(days=2)).strftime("%Y-%m-%dT%H:%M")
    for data, sentence in (
        ({"why": ""}, "This field is required."),
        ({"why": "thrown away", "ended_at": early}, "It cannot have ended before it began."),
        ({"why": "thrown away", "ended_at": f"{day(-2)}T10:00"}, "This lies in the future"),
    ):
        answer = client.post(address, data)
        assert sentence in text_of(answer)
        assert data["why"] in answer.content.decode()
    client.post(address, {"why": "thrown away"})
    fill.refresh_from_db()
    assert (fill.ended_why, fill.level, fill.balance_ml) == ("thrown away", "empty", 0)
    page = text_of(client.get(fill.bucket.get_absolute_url()))
    assert "What was in it before" in page
    assert "thrown away" in page


def test_somebody_faster_is_shown_and_nothing_is_overwritten(client, technician, manager, bought):
    fill = make.fill(bought)
    client.force_login(technician)
    address = reverse("inventory:fill-edit", args=[fill.pk])
    version = client.get(address).context["form"]["version"].value()
    shelf.change_fill(by=manager, obj=fill, values={"lot": "manager's lot"})
    answer = client.post(address, {"version": version, "lot": "technician's lot"})
    assert answer.status_code == 409
    assert "manager&#x27;s lot" in answer.content.decode()
    assert "technician&#x27;s lot" in answer.content.decode()
    fill.refresh_from_db()
    assert fill.lot == "manager's lot"


def test_who_read_a_label_changes_only_when_it_is_read_again(client, technician, manager, bought):
    fill = make.fill(bought, by=manager, label="none")
    client.force_login(technician)
    address = reverse("inventory:fill-edit", args=[fill.pk])
    client.post(address, {"version": 1, "label": "none", "remark": "on the low shelf"})
    fill.refresh_from_db()
    assert (fill.remark, fill.label_read_by) == ("on the low shelf", manager)
    client.post(address, {"version": fill.version, "label": "dinnerware_safe"})
    fill.refresh_from_db()
    assert (fill.label, fill.label_read_by) == ("dinnerware_safe", technician)


def test_not_for_food_is_never_overwritten(client, technician, bought):
    fill = make.fill(bought, label="not_for_food")
    client.force_login(technician)
    answer = client.post(
        reverse("inventory:fill-edit", args=[fill.pk]), {"version": fill.version, "label": "food_safe"}
    )
    assert "label is not overwritten" in text_of(answer)
    fill.refresh_from_db()
    assert fill.label == "not_for_food"


def test_six_levels_by_eye_each_becomes_a_volume(client, member):
    """Shares by eye are the studio's own convention; capacity 10 L."""
    fill = make.fill()
    client.force_login(member)
    address = reverse("inventory:stock-new", args=[fill.bucket.code])
    seen = {}
    for level in ("full", "three_quarters", "half", "quarter", "nearly_empty", "empty"):
        client.post(address, {"kind": "level", "level": level})
        fill.refresh_from_db()
        seen[fill.level] = int(fill.balance_ml)
    assert seen == {
        "full": 10000,
        "three_quarters": 7500,
        "half": 5000,
        "quarter": 2500,
        "nearly_empty": 800,
        "empty": 0,
    }


@pytest.mark.parametrize(
    ("start", "data", "balance", "level"),
    [
        ("half", {"kind": "taken_out", "volume_ml": "2000"}, 3000, "quarter"),
        ("half", {"kind": "discarded", "volume_ml": "4300"}, 700, "nearly_empty"),
        ("half", {"kind": "topped_up", "volume_ml": "2500"}, 7500, "three_quarters"),
        ("empty", {"kind": "topped_up", "volume_ml": "9000"}, 9000, "full"),
        ("half", {"kind": "level", "volume_ml": "2600,5"}, Decimal("2600.5"), "quarter"),
        ("half", {"kind": "taken_out", "volume_ml": "6000"}, -1000, "empty"),
        ("", {"kind": "taken_out", "volume_ml": "6000"}, None, ""),
    ],
)
def test_what_goes_in_and_out_moves_volume_and_level(client, member, start, data, balance, level):
    fill = make.fill()
    if start:
        shelf.add_stock_entry(by=member, fill=fill, kind="level", level=start)
    client.force_login(member)
    client.post(reverse("inventory:stock-new", args=[fill.bucket.code]), data)
    fill.refresh_from_db()
    assert (fill.balance_ml, fill.level) == (balance, level)
    asks = StockEntry.objects.order_by("-created_at").first().asks_for_a_look
    assert asks == (balance is not None and balance < 0)


def test_a_bucket_without_capacity_that_was_empty_and_is_filled_is_not_empty(member):
    fill = make.fill(bucket_=make.bucket(capacity_ml=None))
    shelf.add_stock_entry(by=member, fill=fill, kind="level", level="empty")
    shelf.add_stock_entry(by=member, fill=fill, kind="topped_up", volume_ml=Decimal(500))
    assert Fill.objects.with_standing().get(pk=fill.pk).use == "use"


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"kind": "level"}, "Choose how full it looks, or give a volume."),
        ({"kind": "taken_out", "level": "half"}, "Say how many mL went in or out."),
        ({"kind": "topped_up", "volume_ml": "0"}, "Say how many mL went in or out."),
        ({"kind": "taken_out", "volume_ml": "-5"}, "greater than or equal to 0"),
        ({"kind": "taken_out", "volume_ml": "a cup"}, "Enter a number."),
        ({"kind": "evaporated", "volume_ml": "5"}, "Select a valid choice"),
        ({"kind": "level", "volume_ml": "1.25"}, "no more than 1 decimal place"),
    ],
)
def test_a_refused_entry_keeps_what_was_typed(client, member, data, sentence):
    fill = make.fill()
    client.force_login(member)
    address = reverse("inventory:stock-new", args=[fill.bucket.code])
    answer = client.post(address, {**data, "remark": "by torchlight"})
    assert sentence in text_of(answer)
    assert 'value="by torchlight"' in answer.content.decode()
    assert f'value="{data.get("volume_ml", "")}"' in answer.content.decode() or "volume_ml" not in data
    assert not StockEntry.objects.exists()


def test_a_member_makes_fills_changes_and_puts_away_an_own_jar_and_nobody_elses(client, member, people):
    client.force_login(member)
    made = client.post(reverse("inventory:bucket-new"), {"capacity_ml": "500", "remark": "mine"})
    jar = Bucket.objects.get()
    assert (made["Location"], jar.owner, jar.place) == (jar.get_absolute_url(), member, None)
    client.post(reverse("inventory:fill-new", args=[jar.code]), {"glaze": make.glaze().pk})
    fill = jar.fills.get()
    client.post(
        reverse("inventory:bucket-edit", args=[jar.code]), {"version": jar.version + 1, "remark": "blue"}
    )
    jar.refresh_from_db()
    assert jar.remark == "blue"
    away = reverse("inventory:bucket-archive", args=[jar.code])
    assert "End the fill first" in text_of(client.post(away, {"reason": "cracked"}))
    client.post(reverse("inventory:fill-end", args=[fill.pk]), {"why": "used up"})
    client.force_login(people["other"])
    for address in (away, reverse("inventory:fill-new", args=[jar.code])):
        assert client.post(address).status_code == 403
    client.force_login(member)
    client.post(away, {"reason": "cracked"})
    jar.refresh_from_db()
    assert jar.archived_at is not None


def test_an_own_jar_is_not_put_on_the_shelf_by_its_owner(member, manager):
    jar = make.bucket(by=member, owner=member)
    place = shelf.create_place(by=manager, name="Long shelf")
    with pytest.raises(NotAllowed, match="technician, manager"):
        shelf.change_bucket(by=member, obj=jar, values={"place": place})
    shelf.archive(by=member, obj=jar)
    with pytest.raises(Refused, match="put away"):
        shelf.start_fill(by=member, bucket=jar, glaze=make.glaze())


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        ({"capacity_ml": "0"}, "greater than or equal to 1"),
        ({"capacity_ml": "ten"}, "Enter a whole number."),
        ({"tare_g": "-3"}, "greater than or equal to 0"),
    ],
)
def test_a_bucket_is_refused_with_a_sentence(client, technician, data, sentence):
    client.force_login(technician)
    answer = client.post(reverse("inventory:bucket-new"), {**data, "remark": "with the dent"})
    assert sentence in text_of(answer)
    page = answer.content.decode()
    assert "with the dent" in page
    assert f'value="{next(iter(data.values()))}"' in page
    assert not Bucket.objects.exists()
