"""Numbers are reserved in runs, never twice, and leave a studio its old ones."""

import threading

import pytest
from django.db import connection

from studio.errors import Refused
from studio.models import Change
from tests import make
from tiles.actions import add_tile, next_number, reserve_numbers
from tiles.models import NumberRun, Tile


def numbers(tiles):
    return [tile.number for tile in tiles]


def test_runs_follow_each_other(member):
    body = make.body()
    first = reserve_numbers(by=member, count=3, body=body, form="flat")
    second = reserve_numbers(by=member, count=2)
    assert numbers(first) + numbers(second) == ["1", "2", "3", "4", "5"]
    assert {(t.state, t.body, t.form, t.maker) for t in first} == {("blank", body, "flat", member)}
    run = first[0].run
    assert (run.first, run.last, run.reserved_by) == (1, 3, member)
    assert Change.objects.filter(kind="tiles.tile", verb="created").count() == 5


def test_a_run_steps_around_the_numbers_that_the_studio_had_before(member):
    for old in ("2", "0004", "5a", "x3"):
        add_tile(by=member, number=old)
    assert numbers(reserve_numbers(by=member, count=4)) == ["1", "3", "5", "6"]
    assert next_number(by=member).number == "7"


def test_each_prefix_counts_for_itself_in_any_case(member):
    add_tile(by=member, number="S2")
    assert numbers(reserve_numbers(by=member, count=3, prefix="s")) == ["S1", "S3", "S4"]
    assert numbers(reserve_numbers(by=member, count=1, prefix="S")) == ["S5"]
    assert numbers(reserve_numbers(by=member, count=1)) == ["1"]


@pytest.mark.parametrize(
    ("fields", "named"),
    [({"count": 0}, "count"), ({"count": 201}, "count"), ({"count": 1, "prefix": "4"}, "prefix")],
)
def test_what_cannot_be_reserved(member, fields, named):
    with pytest.raises(Refused) as refused:
        reserve_numbers(by=member, **fields)
    assert list(refused.value.problems) == [named]
    assert (Tile.objects.count(), NumberRun.objects.count()) == (0, 0)


@pytest.mark.parametrize("again", ["A12", "a12", " a12 "])
def test_a_number_is_on_one_tile_only_in_any_case(member, again):
    add_tile(by=member, number="A12")
    with pytest.raises(Refused, match="on another tile"):
        add_tile(by=member, number=again)
    assert Tile.objects.count() == 1


@pytest.mark.parametrize("number", ["", "12 a", "-3", "a" * 25, "7/8", "½"])
def test_a_number_that_cannot_stand_in_an_address_is_refused(member, number):
    with pytest.raises(Refused) as refused:
        add_tile(by=member, number=number)
    assert "number" in refused.value.problems


@pytest.mark.django_db(transaction=True)
def test_two_who_reserve_at_once_get_different_numbers():
    make.studio()
    people = [make.person(), make.person()]
    both = threading.Barrier(2)
    got, wrong = [], []

    def reserve(person):
        try:
            both.wait(timeout=20)
            for _i in range(4):
                got.extend(numbers(reserve_numbers(by=person, count=3)))
        except Exception as error:  # a thread's failure must fail the test
            wrong.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=reserve, args=[person]) for person in people]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert wrong == []
    assert sorted(got, key=int) == [str(n) for n in range(1, 25)]
