"""The stored balance: the sum of the entries since the last measured level, whoever writes and in whatever order."""

import threading
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection, connections
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from inventory import actions as shelf
from inventory.models import Fill
from studio.errors import Refused
from tests import make

WORDS = {
    "full": 1,
    "three_quarters": "0.75",
    "half": "0.5",
    "quarter": "0.25",
    "nearly_empty": "0.08",
    "empty": 0,
}
operation = st.one_of(
    st.tuples(st.just("level"), st.sampled_from(sorted(WORDS)), st.integers(0, 400)),
    st.tuples(
        st.sampled_from(["taken_out", "discarded", "poured_off", "water"]),
        st.integers(1, 9000),
        st.integers(0, 400),
    ),
)


class Balance(TestCase):
    @settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
    @given(operations=st.lists(operation, max_size=8))
    def test_is_the_sum_of_the_entries_in_the_order_of_their_moments(self, operations):
        make.studio()
        member, fill = make.person(), make.fill(level="full")
        done = []
        for n, (kind, amount, hour) in enumerate(operations):
            at = fill.started_at + timedelta(hours=hour + 1)
            said = {"level": amount} if kind == "level" else {"volume_ml": Decimal(amount)}
            shelf.add_stock_entry(by=member, fill=fill, kind=kind, at=at, **said)
            done.append((at, n, kind, amount))
        total = Decimal(10000)
        for _at, _n, kind, amount in sorted(done):
            if kind == "level":
                total = Decimal(WORDS[amount]) * 10000
            else:
                total += amount if kind == "water" else -amount
        assert Fill.objects.get(pk=fill.pk).balance_ml == total


def test_an_entry_that_overdraws_is_kept_and_asks_for_a_look(people):
    fill = make.fill(level="quarter")
    entry = shelf.add_stock_entry(by=people["member"], fill=fill, kind="taken_out", volume_ml=Decimal(4000))
    assert entry.asks_for_a_look
    assert Fill.objects.get(pk=fill.pk).balance_ml == Decimal(-1500)


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ({"depth_mm": 150}, Decimal(5000)),
        ({"gross_g": 8100}, Decimal(5000)),
        ({"level": "half"}, Decimal(5000)),
    ],
)
def test_a_level_by_dipstick_weight_or_eye(people, said, wanted):
    fill = make.fill(bucket_=make.bucket(tare_g=600, inner_height_mm=300), sg="1.50")
    shelf.add_stock_entry(by=people["member"], fill=fill, kind="level", **said)
    assert Fill.objects.get(pk=fill.pk).balance_ml == wanted


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"depth_mm": 301}, "depth_mm"),
        ({"gross_g": 500}, "gross_g"),
        ({"volume_ml": Decimal(-1)}, "volume_ml"),
        ({}, ""),
    ],
)
def test_a_level_that_cannot_be_is_refused_under_its_field(people, said, field):
    fill = make.fill(bucket_=make.bucket(tare_g=600, inner_height_mm=300), sg="1.50")
    with pytest.raises(Refused) as refused:
        shelf.add_stock_entry(by=people["member"], fill=fill, kind="level", **said)
    assert list(refused.value.problems) == [field]


@pytest.mark.django_db(transaction=True)
def test_twenty_writers_at_once_lose_nothing():
    make.studio()
    member, fill = make.person(), make.fill(level="full")
    fill_id, errors = fill.pk, []

    def take_some():
        try:
            shelf.add_stock_entry(
                by=member, fill=Fill.objects.get(pk=fill_id), kind="taken_out", volume_ml=Decimal(100)
            )
        except Exception as error:  # the assertion below shows it
            errors.append(error)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=take_some) for _i in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert errors == []
    assert Fill.objects.get(pk=fill_id).balance_ml == Decimal(8000)
    assert connection.vendor in ("sqlite", "postgresql")


def test_what_is_noted_to_the_minute_counts_after_what_was_written_before_it_in_that_minute(people):
    """Pages offer the minute that it is; a level seen in the same minute keeps its seconds."""
    fill = make.fill(level="full")
    minute = (timezone.now() - timedelta(hours=1)).replace(second=0, microsecond=0)
    seen_at = minute + timedelta(seconds=20)
    shelf.add_stock_entry(by=people["member"], fill=fill, kind="level", level="quarter", at=seen_at)
    shelf.top_up(by=people["technician"], fill=fill, volume_ml=Decimal(5000), at=minute)
    assert level_of(fill) == ("three_quarters", Decimal(7500))


def level_of(fill):
    now = Fill.objects.get(pk=fill.pk)
    return now.level, now.balance_ml


@pytest.mark.parametrize("capacity", [10000, None])
def test_a_level_noted_late_does_not_stand_over_the_one_seen_after_it(people, capacity):
    fill = make.fill(bucket_=make.bucket(capacity_ml=capacity), level="full")
    note = {"by": people["member"], "fill": fill, "kind": "level"}
    shelf.add_stock_entry(**note, level="quarter", at=fill.started_at + timedelta(days=9))
    shelf.add_stock_entry(**note, level="three_quarters", at=fill.started_at + timedelta(days=5))
    assert level_of(fill) == ("quarter", capacity and Decimal(2500))


def test_what_was_seen_empty_is_not_empty_after_a_pour_that_nobody_measured(people):
    glaze = make.glaze()
    source, target = make.fill(glaze, level="full"), make.fill(glaze, level="empty")
    shelf.transfer(by=people["technician"], source=source, target=target)
    assert level_of(target) == ("", None)
    assert Fill.objects.with_standing().get(pk=target.pk).use == "use"


def test_a_weight_takes_the_word_of_an_earlier_look_back(people):
    fill = make.fill(bucket_=make.bucket(capacity_ml=None, tare_g=600), sg="1.50", level="empty")
    shelf.add_stock_entry(by=people["member"], fill=fill, kind="level", gross_g=8100)
    assert level_of(fill) == ("", Decimal(5000))
    shelf.add_stock_entry(by=people["member"], fill=fill, kind="discarded", volume_ml=Decimal(5000))
    assert level_of(fill) == ("empty", Decimal(0))
