"""The life of a fill: top-up, pouring, treatments, washing out; and what stays of it."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone
from rest_framework.test import APIClient

from inventory import actions as shelf
from inventory.calc.doses import published
from inventory.doctor import balances_agree
from inventory.models import Fill, StockEntry, Treatment
from tests import make
from tests.reading import text_of


def page(name, fill):
    return reverse(f"inventory:{name}", args=[fill.bucket.code])


def fresh(fill):
    return Fill.objects.get(pk=fill.pk)


@pytest.fixture
def glaze(manager):
    return make.glaze("Weir Green", sg_low=Decimal("1.44"), sg_high=Decimal("1.50"))


@pytest.fixture
def fill(glaze):
    """Half of ten litres."""
    return make.fill(glaze, level="half")


@pytest.fixture
def second(glaze):
    """A quarter of ten litres, of the same glaze."""
    return make.fill(glaze, level="quarter")


@pytest.mark.parametrize(
    ("said", "balance", "kinds"),
    [
        ({"volume_ml": "2500"}, 7500, ["topped_up"]),
        ({"level": "full"}, 10000, ["topped_up", "level"]),
        ({"volume_ml": "2000", "level": "full"}, 10000, ["topped_up", "level"]),
    ],
)
def test_a_top_up_by_amount_or_by_the_level_afterwards(client, technician, fill, said, balance, kinds):
    client.force_login(technician)
    client.post(page("top-up", fill), {**said, "lot": "batch 9"})
    assert fresh(fill).balance_ml == balance
    written = StockEntry.objects.exclude(kind="filled").order_by("created_at")
    assert [entry.kind for entry in written] == kinds
    assert written[0].lot == "batch 9"
    assert "batch 9" in text_of(client.get(fill.bucket.get_absolute_url()))


def test_a_top_up_that_says_nothing_is_refused_and_kept(client, technician, fill):
    client.force_login(technician)
    answer = client.post(page("top-up", fill), {"lot": "batch 9"})
    assert "Give the amount, or the level afterwards." in text_of(answer)
    assert 'value="batch 9"' in answer.content.decode()
    assert fresh(fill).balance_ml == 5000


def test_pouring_moves_the_volume_from_one_to_the_other(client, technician, fill, second):
    other = make.fill()
    client.force_login(technician)
    shown = client.get(page("pour", fill)).content.decode()
    assert second.bucket.code in shown
    assert other.bucket.code not in shown
    client.post(page("pour", fill), {"way": "out_of", "other": second.bucket.code, "volume_ml": "1500"})
    assert (fresh(fill).balance_ml, fresh(second).balance_ml) == (3500, 4000)
    client.post(page("pour", fill), {"way": "into", "other": second.bucket.code, "volume_ml": "500"})
    assert (fresh(fill).balance_ml, fresh(second).balance_ml) == (4000, 3500)
    said = text_of(client.get(fill.bucket.get_absolute_url()))
    assert f"1.5 L {second.bucket.code}" in said
    assert balances_agree() == []


def test_into_an_empty_bucket_the_same_glaze_begins_with_what_came(client, people, fill):
    bought = make.fill(
        make.glaze("Weir Gold", origin="bought"),
        level="half",
        lot="L7",
        label="food_safe",
        by=people["manager"],
    )
    shelf.raise_flag(by=people["member"], fill=bought, kind="contaminated", note="a brush in it")
    empty, archived = make.bucket(), make.bucket()
    shelf.archive(by=people["manager"], obj=archived)
    client.force_login(people["technician"])
    shown = client.get(page("pour", bought)).content.decode()
    assert (empty.code in shown, archived.code in shown, fill.bucket.code in shown) == (True, False, False)
    said = {"way": "into", "other": empty.code, "volume_ml": "1500", "knowingly": "on"}
    assert "Nothing is in that bucket" in text_of(client.post(page("pour", bought), said))
    client.post(page("pour", bought), {**said, "way": "out_of"})
    begun = empty.fills.get()
    assert (begun.glaze, begun.lot, begun.label) == (bought.glaze, "L7", "food_safe")
    assert begun.label_read_by == people["manager"]
    assert (begun.balance_ml, fresh(bought).balance_ml) == (1500, 3500)
    assert [flag.kind for flag in begun.flags.open()] == ["contaminated"]
    assert balances_agree() == []


def test_a_member_pours_into_an_empty_jar_of_their_own_and_into_no_other(client, people, fill):
    member = people["member"]
    jar, of_the_shelf = shelf.create_bucket(by=member, owner=member), make.bucket()
    client.force_login(member)
    shown = client.get(page("pour", fill)).content.decode()
    assert (jar.code in shown, of_the_shelf.code in shown) == (True, False)
    client.post(page("pour", fill), {"way": "out_of", "other": of_the_shelf.code})
    client.post(page("pour", fill), {"way": "out_of", "other": jar.code})
    assert (of_the_shelf.fills.count(), jar.fills.get().glaze) == (0, fill.glaze)


def test_what_is_flagged_is_said_before_it_is_poured_and_goes_along(client, people, fill, second):
    shelf.raise_flag(by=people["member"], fill=second, kind="contaminated", note="a brush in it")
    client.force_login(people["technician"])
    assert "flagged: contaminated" in text_of(client.get(page("pour", fill)))
    said = {"way": "into", "other": second.bucket.code, "volume_ml": "500", "remark": "for the plates"}
    refused = client.post(page("pour", fill), said)
    assert f"What is in bucket {second.bucket.code} is flagged: contaminated." in text_of(refused)
    assert 'value="for the plates"' in refused.content.decode()
    assert fresh(fill).balance_ml == 5000
    assert not fill.flags.exists()
    client.post(page("pour", fill), {**said, "knowingly": "on"})
    assert fresh(fill).balance_ml == 5500
    assert [flag.kind for flag in fill.flags.open()] == ["contaminated"]
    # Out of the clean... into the flagged one nothing has to be said.
    third = make.fill(fill.glaze, level="full")
    client.post(page("pour", third), {"way": "out_of", "other": second.bucket.code, "volume_ml": "100"})
    assert not third.flags.exists()


def test_a_label_not_for_food_counts_as_a_warning(client, technician):
    glaze = make.glaze("Kiln Gold", origin="bought")
    kept_off = make.fill(glaze, label="not_for_food", level="half")
    other = make.fill(glaze, label="none", level="half")
    client.force_login(technician)
    said = {"way": "out_of", "other": other.bucket.code}
    assert "its label says “not for food”" in text_of(client.post(page("pour", kept_off), said))
    client.post(page("pour", kept_off), {**said, "knowingly": "on"})
    assert Fill.objects.with_standing().get(pk=other.pk).food == "keep_from_food"


def test_what_was_poured_without_measuring_is_unknown_and_the_doctor_agrees(technician, fill, second):
    shelf.transfer(by=technician, source=fill, target=second)
    shelf.add_stock_entry(by=technician, fill=fill, kind="taken_out", volume_ml=Decimal(100))
    assert (fresh(fill).balance_ml, fresh(second).balance_ml) == (None, None)
    assert balances_agree() == []
    shelf.add_stock_entry(by=technician, fill=fill, kind="level", level="quarter")
    assert fresh(fill).balance_ml == 2500


def test_an_entry_of_an_earlier_day_counts_in_its_place_and_the_doctor_agrees(technician, fill):
    now = timezone.now()
    shelf.add_stock_entry(by=technician, fill=fill, kind="level", level="full", at=now - timedelta(days=2))
    shelf.add_stock_entry(
        by=technician, fill=fill, kind="taken_out", volume_ml=Decimal(900), at=now - timedelta(days=5)
    )
    assert fresh(fill).balance_ml == 10000
    assert balances_agree() == []
    Fill.objects.filter(pk=fill.pk).update(balance_ml=9100)
    assert len(balances_agree()) == 1


def test_a_member_s_own_jar_takes_from_the_shelf_and_gives_nothing_back(people, fill):
    jar = make.fill(
        fill.glaze, bucket_=make.bucket(by=people["member"], owner=people["member"]), by=people["member"]
    )
    api = APIClient()
    api.force_login(people["member"])
    into = {"target": str(jar.pk), "volume_ml": "300"}
    assert api.post(f"/api/v1/fills/{fill.pk}/transfer/", into, format="json").status_code == 201
    back = {"target": str(fill.pk), "volume_ml": "300"}
    assert api.post(f"/api/v1/fills/{jar.pk}/transfer/", back, format="json").status_code == 403
    api.force_login(people["other"])
    assert api.post(f"/api/v1/fills/{fill.pk}/transfer/", into, format="json").status_code == 403


def test_treatments_and_stock_stand_in_one_line_of_time(client, member, fill):
    now = timezone.now()
    shelf.treat(by=member, fill=fill, kind="sieved", mesh=80, at=now - timedelta(days=3))
    shelf.add_stock_entry(
        by=member, fill=fill, kind="taken_out", volume_ml=Decimal(500), at=now - timedelta(days=2)
    )
    client.force_login(member)
    client.post(
        page("treatment-new", fill), {"kind": "flocculated", "material": "Epsom salts", "amount_g": "8,5"}
    )
    answer = client.get(fill.bucket.get_absolute_url())
    assert [event.what for event in answer.context["line"]] == [
        "flocculant added",
        "taken out",
        "sieved",
        "filled",
    ]
    said = text_of(answer)
    assert "Epsom salts, 8.5 g" in said
    assert "mesh 80" in said
    assert Treatment.objects.get(kind="flocculated").amount_g == Decimal("8.5")


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"kind": "flocculated", "amount_g": "8"}, "Say what was added."),
        ({"kind": "added", "material": "bentonite", "amount_g": "0"}, "Give an amount above 0."),
        ({"kind": "revived"}, "Select a valid choice"),
    ],
)
def test_a_treatment_that_cannot_be_is_refused_and_kept(client, member, fill, said, sentence):
    client.force_login(member)
    answer = client.post(page("treatment-new", fill), {**said, "remark": "by torchlight"})
    assert sentence in text_of(answer)
    assert 'value="by torchlight"' in answer.content.decode()
    assert not Treatment.objects.exists()


def test_published_doses_are_hints_in_grams_of_this_bucket(client, member, fill):
    """5 L at 1.5 hold 4063 g dry at 2.6; Epsom salts about 0.1 %, up to 0.5 %
    (https://www.bluematchbox.co.uk/bmb-magnesium-sulphate.html)."""
    shelf.add_reading(by=member, fill=fill, specific_gravity=Decimal("1.5"))
    client.force_login(member)
    answer = client.get(page("treatment-new", fill))
    said = text_of(answer)
    epsom = answer.context["hints"][0]
    assert (str(epsom.name), epsom.percent, epsom.grams) == ("Epsom salts", "0.1 to 0.5", "4.1 to 20")
    assert epsom.grams in said
    assert "as published: https://www.bluematchbox.co.uk" in said
    assert "common practice, no source read" in said
    assert all(dose.source for dose in published() if dose.mark == "read")


def test_washing_out_ends_the_fill_and_keeps_everything(client, people, fill):
    shelf.add_reading(
        by=people["member"], fill=fill, specific_gravity=Decimal("1.47"), remark="after an hour"
    )
    shelf.treat(by=people["member"], fill=fill, kind="sieved", mesh=120)
    shelf.raise_flag(by=people["member"], fill=fill, kind="other", note="smells of eggs")
    client.force_login(people["technician"])
    assert "a matter of local rules" in text_of(client.get(page("wash-out", fill)))
    client.post(page("wash-out", fill), {"why": "gone bad", "version": fresh(fill).version})
    done = fresh(fill)
    assert (done.ended_why, done.balance_ml) == ("gone bad", 0)
    assert done.stock_entries.get(kind="discarded").volume_ml == -5000
    client.force_login(people["member"])
    bucket_page = client.get(fill.bucket.get_absolute_url()).content.decode()
    former = reverse("inventory:fill", args=[fill.pk])
    assert former in bucket_page
    said = text_of(client.get(former))
    for kept in ("after an hour", "mesh 120", "smells of eggs", "Discarded", "Gone bad."):
        assert kept in said
    assert page("treatment-new", fill) not in client.get(former).content.decode()


def test_an_old_version_of_the_page_washes_nothing_out(client, technician, fill):
    client.force_login(technician)
    seen = fresh(fill).version
    shelf.add_stock_entry(by=technician, fill=fill, kind="level", level="full")
    assert client.post(page("wash-out", fill), {"why": "gone bad", "version": seen}).status_code == 409
    assert fresh(fill).ended_at is None


@pytest.mark.parametrize("name", ["top-up", "treatment-new", "pour", "revive", "wash-out"])
def test_nothing_is_noted_on_what_is_not_there(client, technician, name):
    bucket = make.bucket()
    client.force_login(technician)
    answer = client.get(reverse(f"inventory:{name}", args=[bucket.code]))
    assert answer["Location"] == bucket.get_absolute_url()
