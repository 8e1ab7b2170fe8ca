"""When a bucket runs out, what dried away, and which entry asks for a look: read from the stock entries."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Fill
from inventory.sentences import runs_out_words
from inventory.usage import evaporated, forecast, look_wanted, since_fill_up
from tests import make


@pytest.fixture
def fill(member):
    """20 L, filled thirty days ago."""
    return make.fill(bucket_=make.bucket(capacity_ml=20000), level="full", days_ago=30)


@pytest.fixture
def note(member, fill):
    def write(kind, days_ago, **said):
        at = timezone.now() - timedelta(days=days_ago)
        amounts = {k: Decimal(v) if k == "volume_ml" else v for k, v in said.items()}
        if kind == "topped_up":
            return shelf.top_up(by=make.manager(), fill=fill, at=at, **amounts)
        return shelf.add_stock_entry(by=member, fill=fill, kind=kind, at=at, **amounts)

    return write


def days(fill, **kwargs):
    found = forecast(Fill.objects.get(pk=fill.pk), **kwargs)
    return (
        None
        if found is None
        else (round(found.days, 1), round(found.low, 1), found.high and round(found.high, 1))
    )


def test_a_steady_use_runs_out_on_the_line(fill, note):
    """20 L less 0.4 L a day from day 30 to day 10 is 12 L, which last 30 days: 20 from today, without a spread."""
    note("taken_out", 20, volume_ml=4000)
    note("level", 10, volume_ml=12000)
    assert days(fill) == (20.0, 20.0, 20.0)
    later = timezone.now() + timedelta(days=15)
    assert days(fill, now=later) == (5.0, 5.0, 5.0)
    assert days(fill, now=later + timedelta(days=30)) == (0.0, 0.0, 0.0)


def test_an_unsteady_use_has_its_interval(fill, note):
    """Least squares over (0, 20), (10, 15), (20, 12) days and L: 0.4 L a day, residuals 1/3, -2/3, 1/3, so
    se(b) = sqrt((6/9) / 1 / 200) = 0.0577 L, times t80 of one degree of freedom 3.078 is 0.178: 12 / 0.578 to
    12 / 0.222 days, ten of them gone. The t quantile: NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.2.
    """
    note("level", 20, volume_ml=15000)
    note("level", 10, volume_ml=12000)
    about, low, high = days(fill)
    assert about == 20.0
    assert low == pytest.approx(12 / 0.5777 - 10, abs=0.1)
    assert high == pytest.approx(12 / 0.2223 - 10, abs=0.1)


@pytest.mark.parametrize(
    "entries",
    [
        [("taken_out", 20, {"volume_ml": 4000})],  # two points only
        [("taken_out", 29.5, {"volume_ml": 400}), ("taken_out", 29, {"volume_ml": 400})],  # one day
        [("level", 20, {"volume_ml": 20000}), ("level", 10, {"volume_ml": 20000})],  # no fall
        [
            ("taken_out", 20, {"volume_ml": 400}),
            ("taken_out", 10, {"volume_ml": 30000}),
        ],  # more than there was
    ],
)
def test_what_cannot_be_said_is_not_said(fill, note, entries):
    for kind, days_ago, said in entries:
        note(kind, days_ago, **said)
    assert days(fill) is None
    assert "is not known" in runs_out_words(None)


def test_only_what_came_since_the_last_fill_up_counts(fill, note):
    note("taken_out", 25, volume_ml=12000)
    note("topped_up", 20, volume_ml=12000)
    assert len(since_fill_up(fill)) == 1
    note("taken_out", 15, volume_ml=1000)
    note("taken_out", 10, volume_ml=1000)
    # 200 mL a day of 18 L: 90 days, ten of them gone.
    assert days(fill) == (80.0, 80.0, 80.0)


def test_a_level_far_above_the_count_is_a_fill_up_that_nobody_noted(fill, note):
    note("level", 25, level="half")
    note("level", 20, volume_ml=12000)  # within an eighth of the bucket: by eye it may be the same
    assert len(since_fill_up(fill)) == 3
    note("level", 15, level="full")
    assert len(since_fill_up(fill)) == 1


def test_water_put_right_is_no_use_and_no_fill_up(fill, note):
    note("taken_out", 20, volume_ml=4000)
    note("water", 19, volume_ml=1000)
    note("poured_off", 15, volume_ml=1000)
    note("taken_out", 10, volume_ml=4000)
    assert days(fill) == (20.0, 20.0, 20.0)


def test_an_unknown_amount_begins_anew(fill, note, technician):
    note("taken_out", 20, volume_ml=4000)
    shelf.transfer(
        by=technician, source=fill, target=make.fill(fill.glaze), at=timezone.now() - timedelta(days=15)
    )
    assert since_fill_up(Fill.objects.get(pk=fill.pk)) == []
    note("level", 10, level="half")
    assert [ml for _at, ml in since_fill_up(Fill.objects.get(pk=fill.pk))] == [Decimal(10000)]


def test_the_words_carry_the_interval(fill, note):
    note("level", 20, volume_ml=15000)
    note("level", 10, volume_ml=12000)
    assert runs_out_words(forecast(fill)) == (
        "Runs out in about 20 days (10 to 44), if it is used as it was."
    )
    assert "may have run out" in runs_out_words(forecast(fill, now=timezone.now() + timedelta(days=40)))


def test_an_entry_that_overdrew_asks_for_a_look_until_a_level_is_measured(fill, note):
    assert look_wanted(fill) is None
    overdrawn = note("taken_out", 5, volume_ml=25000)
    note("topped_up", 4, volume_ml=9000)
    assert look_wanted(fill) == overdrawn
    note("level", 6, level="half")  # of a day before it
    assert look_wanted(fill) == overdrawn
    note("level", 3, level="quarter")
    assert look_wanted(fill) is None


def test_what_dried_away_is_an_estimate_from_the_fall_of_the_level(member, fill, note):
    """16.8 L at 1.5 that lost 5.6 L of water stand at 1.75: S. Altmann,
    http://www.potters.org/subject13664.htm"""
    note("level", 20, volume_ml=16800)
    assert evaporated(fill) is None
    shelf.add_reading(
        by=member, fill=fill, specific_gravity=Decimal("1.5"), taken_at=timezone.now() - timedelta(days=19)
    )
    assert evaporated(fill) is None
    note("level", 5, volume_ml=11200)
    found = evaporated(fill)
    assert (found.lost_ml, found.volume_ml, found.sg) == (Decimal(5600), Decimal(11200), Decimal("1.75"))
    # What was noted as taken out did not dry away.
    note("taken_out", 10, volume_ml=5600)
    assert evaporated(fill) is None


@pytest.mark.parametrize(
    ("then", "sg"),
    [
        # 10 L at 1.5 less 1 L of water: (1.5 - 1) x 10 / 9. What is taken out after that changes no gravity.
        ([("taken_out", 4500)], "1.56"),
        # The litre put back makes it what it was.
        ([("water", 1000)], "1.50"),
        # How dense the top-up was is not known.
        ([("topped_up", 1000)], None),
    ],
)
def test_what_dried_away_is_reckoned_in_the_order_in_which_it_happened(fill, note, member, then, sg):
    note("level", 20, volume_ml=10000)
    taken_at = timezone.now() - timedelta(days=19)
    shelf.add_reading(by=member, fill=fill, specific_gravity=Decimal("1.5"), taken_at=taken_at)
    note("level", 10, volume_ml=9000)
    for kind, amount in then:
        note(kind, 5, volume_ml=amount)
    found = evaporated(fill)
    assert (found.lost_ml, found.sg) == (Decimal(1000), sg and Decimal(sg))
