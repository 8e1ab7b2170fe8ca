"""A flag's reach through transfers: stored flags against a brute-force walk of every path."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from inventory import actions as shelf
from inventory.calc.reach import Transfer, reach
from inventory.models import Fill, Flag, StockEntry
from studio.errors import Refused
from tests import make


def chain(count=3, **fields):
    glaze = make.glaze()
    return [make.fill(glaze, level="full", **fields) for _i in range(count)]


def use_of(fill):
    return Fill.objects.with_standing().get(pk=fill.pk).use


def test_contamination_follows_two_transfers_and_only_mistaken_lifts_it(people):
    technician = people["technician"]
    first, second, third = chain()
    flag = shelf.raise_flag(by=people["member"], fill=first, kind="contaminated", note="blue grit")
    shelf.transfer(by=technician, source=first, target=second, volume_ml=Decimal(500))
    shelf.transfer(by=technician, source=second, target=third, volume_ml=Decimal(500))
    assert [use_of(f) for f in (first, second, third)] == ["do_not_use"] * 3
    shelf.clear_flag(by=technician, flag=flag, outcome="put_right", note="sieved out")
    assert [use_of(f) for f in (first, second, third)] == ["use", "do_not_use", "do_not_use"]
    again = shelf.raise_flag(by=technician, fill=first, kind="contaminated", note="grit again")
    shelf.clear_flag(by=technician, flag=again, outcome="mistaken", note="it was shadow")
    assert use_of(second) == "do_not_use"  # the first flag's reach is not the second's


def test_mistaken_lifts_every_bucket_that_it_reached(people):
    technician = people["technician"]
    first, second, third = chain()
    shelf.transfer(by=technician, source=first, target=second, volume_ml=Decimal(500))
    shelf.transfer(by=technician, source=second, target=third, volume_ml=Decimal(500))
    flag = shelf.raise_flag(by=people["member"], fill=first, kind="contaminated", note="blue grit")
    assert use_of(third) == "do_not_use"  # raised after the transfers, since not known: it was always so
    child = Flag.objects.get(fill=third)
    with pytest.raises(Refused, match="came here with a transfer"):
        shelf.clear_flag(by=technician, flag=child, outcome="mistaken", note="no")
    shelf.clear_flag(by=technician, flag=flag, outcome="mistaken", note="it was shadow")
    assert [use_of(f) for f in (first, second, third)] == ["use"] * 3


def test_a_reached_bucket_is_put_right_by_itself_until_something_spoiled_is_poured_in_again(people):
    technician = people["technician"]
    first, second, _third = chain()
    shelf.raise_flag(by=technician, fill=first, kind="contaminated", note="grit")
    shelf.transfer(by=technician, source=first, target=second, volume_ml=Decimal(500))
    shelf.clear_flag(by=technician, flag=Flag.objects.get(fill=second), outcome="put_right", note="sieved")
    assert use_of(second) == "use"
    shelf.transfer(by=technician, source=first, target=second, volume_ml=Decimal(500))
    assert use_of(second) == "do_not_use"


def test_what_was_put_right_is_spoiled_again_by_what_comes_back_to_it(people):
    technician = people["technician"]
    first, second, third = chain()
    flag = shelf.raise_flag(by=technician, fill=first, kind="contaminated", note="grit")
    shelf.transfer(by=technician, source=first, target=second)
    shelf.clear_flag(by=technician, flag=flag, outcome="put_right", note="sieved")
    assert use_of(first) == "use"
    back = shelf.transfer(by=technician, source=second, target=first)
    assert use_of(first) == "do_not_use"
    again = Flag.objects.get(fill=first, outcome="")
    assert (again.origin, again.since, again.through) == (flag, back.at, back)
    shelf.transfer(by=technician, source=first, target=third)
    assert use_of(third) == "do_not_use"


def test_pours_of_one_moment_reach_each_other_in_either_order():
    at = timezone.now()
    poured = [Transfer("second", "third", at), Transfer("first", "second", at)]
    for order in (poured, poured[::-1]):
        assert reach("first", None, None, order) == {"second": at, "third": at}


def test_a_not_for_food_label_goes_with_what_is_poured(people):
    glaze = make.glaze(origin="bought")
    source, target = make.fill(glaze, label="not_for_food"), make.fill(glaze, label="food_safe")
    shelf.transfer(by=people["technician"], source=source, target=target)
    assert Fill.objects.with_standing().get(pk=target.pk).food == "keep_from_food"


def spoiled_by_walking(transfers, origin, since, put_right):
    """Every path forwards in time from a spoiled pour: written without spells or sorting tricks."""
    found: dict = {}

    def walk(fill, moment):
        for source, target, at in transfers:
            if (
                source == fill
                and at >= moment
                and (target != origin or (put_right is not None and at > put_right))
                and (target not in found or at < found[target])
            ):
                found[target] = at
                walk(target, at)

    for source, target, at in transfers:
        within = (since is None or at >= since) and (put_right is None or at <= put_right)
        if source == origin and target != origin and within and (target not in found or at < found[target]):
            found[target] = at
            walk(target, at)
    return found


class Reach(TestCase):
    @settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
    @given(
        steps=st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), max_size=9),
        since=st.none() | st.integers(0, 9),
        raised_after=st.integers(0, 9),
        put_right=st.none() | st.integers(0, 9),
    )
    def test_stored_flags_equal_a_walk_of_every_path(self, steps, since, raised_after, put_right):
        make.studio()
        technician = make.person("technician")
        glaze = make.glaze()
        fills = [make.fill(glaze) for _i in range(5)]
        start = fills[0].started_at + timedelta(days=5)
        moment = lambda n: start + timedelta(hours=n)  # noqa: E731
        flag, transfers = None, []
        since_at = None if since is None else moment(since) - timedelta(minutes=30)
        for n, (source, target) in enumerate([*steps, (None, None)]):
            if flag is None and (n >= raised_after or source is None):
                flag = shelf.raise_flag(by=technician, fill=fills[0], kind="contaminated", since=since_at)
            if source is not None and source != target:
                shelf.transfer(by=technician, source=fills[source], target=fills[target], at=moment(n))
                transfers.append((source, target, moment(n)))
        mended_at = None
        if put_right is not None:
            mended_at = max(moment(put_right) + timedelta(minutes=30), since_at or start)
            shelf.clear_flag(by=technician, flag=flag, outcome="put_right", put_right_at=mended_at)
        wanted = spoiled_by_walking(transfers, 0, since_at, mended_at)
        carried = Flag.objects.filter(origin=flag, outcome="")
        assert {(fills.index(c.fill), c.since) for c in carried} == set(wanted.items())
        assert StockEntry.objects.filter(kind="moved_on").count() == len(transfers)
