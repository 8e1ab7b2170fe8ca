"""What a container says holds only for what came out of it: two containers in one bucket, or two buckets in one."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Fill, Flag
from studio.errors import Refused
from studio.roles import NotAllowed
from tests import make


def fresh(fill):
    return Fill.objects.with_standing().get(pk=fill.pk)


def said_by(fill):
    now = fresh(fill)
    return now.label, now.label_condition, now.child_fit


@pytest.fixture
def bought(manager):
    return make.glaze(origin="bought")


READ = {"label": "food_safe", "label_condition": "cone 6, alone", "child_fit": "yes", "lot": "L7"}


@pytest.mark.parametrize("pour", ["top_up", "add_stock_entry"])
def test_a_top_up_from_a_container_that_nobody_read_leaves_no_label(people, bought, pour):
    fill = make.fill(bought, level="half", **READ)
    more = {"kind": "topped_up"} if pour == "add_stock_entry" else {}
    getattr(shelf, pour)(by=people["technician"], fill=fill, volume_ml=Decimal(500), lot="L8", **more)
    assert said_by(fill) == ("", "", "")
    now = fresh(fill)
    assert (now.label_read_by, now.label_read_on, now.child_fit_read_by, now.child_fit_read_on) == (None,) * 4
    assert (now.food, now.is_for_children) == ("not_read", False)


def test_a_top_up_from_the_lot_that_was_read_keeps_what_it_says(people, bought):
    fill = make.fill(bought, level="half", **READ)
    shelf.top_up(by=people["technician"], fill=fill, volume_ml=Decimal(500), lot=" l7 ")
    assert said_by(fill) == ("food_safe", "cone 6, alone", "yes")


def test_a_warning_of_the_first_container_stays_after_a_top_up(people, bought):
    fill = make.fill(bought, level="half", label="not_for_food", child_fit="no")
    shelf.top_up(by=people["technician"], fill=fill, level="full")
    assert said_by(fill) == ("not_for_food", "", "no")


@pytest.mark.parametrize(
    ("poured", "into", "left"),
    [
        ({"label": "food_safe"}, {"label": "food_safe"}, ("food_safe", "", "")),
        ({}, {"label": "food_safe"}, ("", "", "")),
        ({"label": "none"}, {"label": "dinnerware_safe"}, ("", "", "")),
        ({"label": "food_safe", "label_condition": "cone 5"}, {"label": "food_safe"}, ("", "", "")),
        ({"label": "food_safe"}, {}, ("", "", "")),
        ({"child_fit": "yes"}, {"child_fit": "yes"}, ("", "", "yes")),
        ({"child_fit": "nothing"}, {"child_fit": "yes"}, ("", "", "")),
        ({"child_fit": "no"}, {"child_fit": "yes"}, ("", "", "no")),
        ({"child_fit": "no"}, {}, ("", "", "no")),
        ({"child_fit": "yes"}, {"child_fit": "no"}, ("", "", "no")),
        ({}, {"label": "not_for_food"}, ("not_for_food", "", "")),
    ],
)
def test_of_two_buckets_poured_together_only_what_both_say_holds(people, bought, poured, into, left):
    source, target = make.fill(bought, **poured), make.fill(bought, **into)
    shelf.transfer(by=people["technician"], source=source, target=target)
    assert said_by(target) == left


def test_who_pours_cannot_withdraw_the_flag_that_a_label_brought(people, bought):
    member = people["member"]
    source = make.fill(bought, label="not_for_food")
    jar = make.fill(bought, bucket_=shelf.create_bucket(by=member, owner=member), by=member)
    shelf.transfer(by=member, source=source, target=jar)
    flag = Flag.objects.get(fill=jar)
    assert flag.through.source_fill == source
    with pytest.raises(NotAllowed):
        shelf.withdraw_flag(by=member, flag=flag)


def test_a_not_for_food_label_read_late_reaches_what_was_poured_before(people, bought):
    technician = people["technician"]
    first, second, third = (make.fill(bought, label="food_safe") for _i in range(3))
    then = timezone.now() - timedelta(days=3)
    shelf.transfer(by=technician, source=first, target=second, at=then)
    shelf.transfer(by=technician, source=second, target=third, at=then + timedelta(days=1))
    shelf.change_fill(by=technician, obj=first, values={"label": "not_for_food"})
    assert [fresh(f).food for f in (first, second, third)] == ["keep_from_food"] * 3
    assert Flag.objects.get(fill=second).since == then


def test_what_is_refused_pours_nothing(people, bought):
    fill = make.fill(bought, level="half", **READ)
    with pytest.raises(Refused):
        shelf.top_up(by=people["technician"], fill=fill, volume_ml=Decimal(-1))
    assert said_by(fill) == ("food_safe", "cone 6, alone", "yes")


@pytest.mark.parametrize(
    ("kind", "left"),
    [("stirred", "yes"), ("sieved", "yes"), ("flocculated", ""), ("deflocculated", ""), ("added", "")],
)
def test_what_something_was_added_to_is_no_longer_for_children(people, bought, kind, left):
    fill = make.fill(bought, **READ)
    shelf.treat(by=people["member"], fill=fill, kind=kind, material="" if left else "Epsom salts")
    assert said_by(fill) == ("food_safe", "cone 6, alone", left)
    assert (fresh(fill).child_fit_read_by is None) is (left == "")
