"""Recording a specific gravity, and the water that it asks for."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Fill, Reading
from inventory.trend import BOTTOM, TOP, trend
from tests import make
from tests.reading import text_of


@pytest.fixture
def glaze(manager):
    return make.glaze("Weir Green", by=manager, sg_low=Decimal("1.44"), sg_high=Decimal("1.50"))


@pytest.fixture
def fill(manager, glaze):
    """Half of ten litres."""
    return make.fill(glaze, by=manager, level="half")


@pytest.fixture
def address(fill):
    return reverse("inventory:reading-new", args=[fill.bucket.code])


def local(moment):
    return timezone.localtime(moment).strftime("%Y-%m-%dT%H:%M")


def test_one_number_is_enough(client, member, fill, address):
    client.force_login(member)
    page = client.get(address)
    assert 'inputmode="decimal"' in page.content.decode()
    client.post(address, {"specific_gravity": "1,47", "method": "weighed"})
    reading = Reading.objects.get()
    assert (reading.fill, reading.specific_gravity, reading.by) == (fill, Decimal("1.47"), member)
    assert timezone.now() - reading.taken_at < timedelta(minutes=2)
    read = Fill.objects.with_standing().get(pk=fill.pk)
    assert (read.sg, read.sg_is_stale) == (Decimal("1.47"), False)


@pytest.mark.parametrize(
    ("sg", "level", "expected"),
    [
        # 5 L at 1.55 to 1.47: 5000 * 0.08 / 0.47 = 851 mL, by mixing of volumes (source: inventory/calc/slurry.py).
        ("1.55", "half", "Add about 850 mL of water to reach 1.47. Then stir, wait, weigh again."),
        # 5 L at 1.40: 5000 * 0.07 / 0.47 = 745 mL.
        ("1.40", "half", "Take about 740 mL of clear water off the top to reach 1.47."),
        ("1.47", "half", "It lies in the wanted window. Nothing to add."),
        ("1.55", "", "Add a little water, stir, wait, weigh again."),
        ("1.40", "", "Let it settle, take a little clear water off the top"),
    ],
)
def test_after_a_reading_the_page_says_what_it_asks_for(client, member, glaze, sg, level, expected):
    fill = make.fill(glaze, level=level)
    client.force_login(member)
    answer = client.post(
        reverse("inventory:reading-new", args=[fill.bucket.code]),
        {"specific_gravity": sg, "method": "weighed"},
        follow=True,
    )
    assert expected in text_of(answer)


def test_without_a_wanted_window_nothing_is_asked_for(client, member):
    fill = make.fill(level="half")
    client.force_login(member)
    answer = client.post(
        reverse("inventory:reading-new", args=[fill.bucket.code]),
        {"specific_gravity": "1.9", "method": "hydrometer"},
        follow=True,
    )
    assert "No wanted window is noted" in text_of(answer)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("153", "Did you mean 1.53?"),
        ("15", "Did you mean 1.5?"),
        ("abc", "Write the specific gravity as a number"),
        ("2.6", "2.6 cannot be a specific gravity"),
        ("0", "0 cannot be a specific gravity"),
        ("1.00", "1.00 cannot be a specific gravity"),
        ("-1.5", "-1.5 cannot be a specific gravity"),
        ("1.5377", "Three decimals are enough"),
        ("", "This field is required."),
    ],
)
def test_an_impossible_gravity_is_refused_and_everything_typed_is_kept(
    client, member, address, typed, sentence
):
    client.force_login(member)
    moment = local(timezone.now() - timedelta(days=3))
    data = {
        "specific_gravity": typed,
        "method": "hydrometer",
        "taken_at": moment,
        "remark": "after an hour of stirring",
    }
    answer = client.post(address, data)
    page = answer.content.decode()
    assert sentence in text_of(answer)
    assert f'value="{typed}"' in page or not typed
    assert f'value="{moment}"' in page
    assert 'value="after an hour of stirring"' in page
    assert answer.context["form"]["method"].value() == "hydrometer"
    assert not Reading.objects.exists()


def test_a_reading_of_tomorrow_is_refused(client, member, address):
    client.force_login(member)
    moment = local(timezone.now() + timedelta(days=1))
    answer = client.post(address, {"specific_gravity": "1.47", "method": "weighed", "taken_at": moment})
    assert "This lies in the future" in text_of(answer)
    assert f'value="{moment}"' in answer.content.decode()
    assert not Reading.objects.exists()


def test_a_page_left_open_records_nothing_for_another_glaze(client, member, technician, fill, address):
    shelf.end_fill(by=technician, fill=fill, why="used up")
    make.fill(bucket_=fill.bucket)
    client.force_login(member)
    answer = client.post(address, {"specific_gravity": "1.47", "method": "weighed", "fill": fill.pk})
    assert "Something else is in this bucket by now" in text_of(answer)
    assert 'value="1.47"' in answer.content.decode()
    assert not Reading.objects.exists()


def test_the_bucket_page_shows_the_latest_ten(client, member, fill):
    for n in range(12):
        shelf.add_reading(
            by=member,
            fill=fill,
            specific_gravity=Decimal("1.44") + Decimal(n) / 1000,
            taken_at=timezone.now() - timedelta(days=n),
        )
    client.force_login(member)
    shown = client.get(fill.bucket.get_absolute_url()).context["readings"]
    assert [r.specific_gravity for r in shown] == [Decimal("1.44") + Decimal(n) / 1000 for n in range(10)]


def test_the_trend_runs_from_old_to_new_and_heavier_is_higher():
    at = [timezone.now() - timedelta(days=n) for n in (9, 4, 1)]
    drawn = trend(
        [(at[2], Decimal("1.52")), (at[0], Decimal("1.45")), (at[1], Decimal("1.47"))],
        Decimal("1.44"),
        Decimal("1.50"),
    )
    xs, ys = zip(*drawn.points, strict=True)
    assert list(xs) == sorted(xs)
    assert list(ys) == sorted(ys, reverse=True)
    top, height = drawn.window
    assert TOP <= ys[2] < top < ys[1] < ys[0] <= top + height <= BOTTOM
    assert trend([(at[0], Decimal("1.45"))], None, None) is None
