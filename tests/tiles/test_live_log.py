"""Readings sent while the kiln is hot: once or twice, in any order, by two at a time, they are one log."""

from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from studio.errors import Refused
from studio.models import Change
from tests import make
from tests.tiles.log_files import readings
from tests.tiles.test_unloading_races import at_once
from tiles import actions as wall
from tiles.actions.live import MOST_AT_ONCE, send_readings
from tiles.actions.logs import keep_log, take_log_back
from tiles.logs import log_of, readings_of
from tiles.models import Firing, FiringLog

ALL = readings(640)[::4]


def hot(state="firing", hours=11):
    """A firing that began so many hours ago."""
    firing = make.firing()
    at = timezone.now().replace(microsecond=0) - timedelta(hours=hours)
    wall.move_firing(by=make.manager(), firing=firing, state="firing", at=at)
    if state != "firing":
        wall.move_firing(by=make.manager(), firing=firing, state=state)
    return firing


def rows(firing, some=ALL):
    return [{"at": firing.started_at + timedelta(seconds=s), "celsius": c} for s, c in some]


def batches(some, size):
    return [some[i : i + size] for i in range(0, len(some), size)]


def whole(firing):
    found = readings_of(Firing.objects.get(pk=firing.pk))
    return found.begins_at, found.seconds.tolist(), found.celsius.tolist()


class InAnyOrder(TestCase):
    @settings(max_examples=12, deadline=None)
    @given(st.permutations(range(8)), st.lists(st.integers(0, 7), max_size=3))
    def test_batches_in_any_order_and_again_are_one_log(self, order, again):
        make.studio()
        firing, member = hot(), make.person()
        sent = batches(rows(firing), 20)
        for n in [*order, *again]:
            send_readings(by=member, firing=firing, readings=sent[n])
        begins_at, seconds, celsius = whole(firing)
        assert begins_at == firing.started_at
        assert list(zip(seconds, celsius, strict=True)) == ALL
        log = FiringLog.objects.get()
        assert (log.cone.code, log.count, log.marks) == ("6", 160, [])
        assert Firing.objects.get(pk=firing.pk).log_cone.code == "6"


def test_the_same_batch_twice_adds_nothing(member):
    firing = hot()
    batch = rows(firing)[:50]
    assert send_readings(by=member, firing=firing, readings=batch).added == 50
    log = log_of(Firing.objects.get(pk=firing.pk))
    again = send_readings(by=member, firing=firing, readings=batch)
    assert (again.added, again.log.last_sent_at) == (0, log.last_sent_at)
    assert Change.objects.filter(verb="began to send a log").count() == 1


def test_an_open_form_is_not_disturbed_by_readings_that_change_no_cone(member):
    firing = hot()
    send_readings(by=member, firing=firing, readings=rows(firing)[:10])
    assert Firing.objects.get(pk=firing.pk).version == firing.version


def test_elapsed_seconds_and_degrees_fahrenheit_and_silence(member):
    firing = hot()
    sent = [{"elapsed_s": 0.4, "fahrenheit": 212}, {"elapsed_s": 60, "celsius": None}, {"elapsed_s": 120}]
    log = send_readings(by=member, firing=firing, readings=sent).log
    assert (log.begins_at, log.count, log.last_s, log.last_c) == (None, 3, 120, 100)
    assert readings_of(firing).begins_at == firing.started_at
    with pytest.raises(Refused, match="counts its time as elapsed_s"):
        send_readings(by=member, firing=firing, readings=rows(firing)[:1])


BAD = {
    "nothing": ([], "readings", "at least one"),
    "too many": (
        [{"elapsed_s": i, "celsius": 20} for i in range(MOST_AT_ONCE + 1)],
        "readings",
        "at most 1000",
    ),
    "1e9": (
        [{"elapsed_s": 0, "celsius": 20}, {"elapsed_s": 9, "celsius": 1e9}],
        "readings.1",
        "1e+09 °C is none",
    ),
    "colder than any": ([{"elapsed_s": 0, "fahrenheit": -60}], "readings.0", "is none that a kiln has"),
    "years": ([{"elapsed_s": 1e8, "celsius": 20}], "readings.0.elapsed_s", "at most 14 days"),
    "both clocks": (
        [{"elapsed_s": 0, "celsius": 20}, {"at": timezone.now(), "celsius": 20}],
        "readings.1",
        "all readings alike",
    ),
}


@pytest.mark.parametrize("what", BAD)
def test_a_bad_batch_is_refused_whole_and_its_row_named(what, member):
    sent, field, said = BAD[what]
    firing = hot()
    with pytest.raises(Refused, match=said.replace("+", r"\+")) as refused:
        send_readings(by=member, firing=firing, readings=sent)
    assert list(refused.value.problems) == [field]
    assert FiringLog.objects.count() == 0


def test_a_whole_batch_in_fahrenheit_is_told_what_to_do_and_not_a_thousand_times(member):
    sent = [{"elapsed_s": n, "celsius": 1900 + n / 10} for n in range(MOST_AT_ONCE)]
    with pytest.raises(Refused, match="are sent as fahrenheit") as refused:
        send_readings(by=member, firing=hot(), readings=sent)
    assert len(refused.value.problems) == 10


@pytest.mark.parametrize(("hours", "said"), [(1, "still to come"), (-48, "long before this firing")])
def test_a_wrong_clock_is_named(hours, said, member):
    firing = hot()
    late = [{"at": timezone.now() + timedelta(hours=hours), "celsius": 20}]
    with pytest.raises(Refused, match=said) as refused:
        send_readings(by=member, firing=firing, readings=[*rows(firing)[:2], *late])
    assert list(refused.value.problems) == ["readings.2.at"]


def test_a_log_from_a_file_is_not_written_over(member, technician):
    firing = hot("cooling")
    keep_log(by=member, firing=firing, seconds=[0, 60], celsius=[20, 21])
    with pytest.raises(Refused, match="was kept from a file"):
        send_readings(by=member, firing=firing, readings=rows(firing)[:1])
    take_log_back(by=technician, firing=firing, reason="the instrument sends it now")
    assert send_readings(by=member, firing=firing, readings=rows(firing)[:1]).added == 1


@pytest.mark.parametrize("state", ["planned", "unloaded", "stopped"])
def test_readings_are_taken_while_it_is_loaded_firing_or_cooling(state, member):
    firing = make.firing() if state == "planned" else make.fire(make.firing(), stop=state == "stopped")
    with pytest.raises(Refused, match="readings are taken while"):
        send_readings(by=member, firing=firing, readings=[{"elapsed_s": 0, "celsius": 20}])


def test_somebody_forgot_to_say_that_it_fires(member):
    firing = make.firing()
    wall.move_firing(by=make.manager(), firing=firing, state="loading")
    assert (
        send_readings(by=member, firing=firing, readings=[{"at": timezone.now(), "celsius": 20}]).added == 1
    )


@pytest.mark.django_db(transaction=True)
def test_two_writers_at_one_moment_lose_nothing():
    make.studio()
    firing, two = hot(), (make.person(), make.person())
    halves = batches(rows(firing), 80)

    def send(by, half):
        def act():
            for batch in batches(half, 20):
                with transaction.atomic():
                    send_readings(by=by, firing=firing, readings=batch)

        return act

    assert at_once(*(send(by, half) for by, half in zip(two, halves, strict=True))) == [None, None]
    _begins, seconds, celsius = whole(firing)
    assert list(zip(seconds, celsius, strict=True)) == ALL
