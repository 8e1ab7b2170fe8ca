"""Flags: a second report joins, reach only widens, three outcomes, and what each leaves on the tiles."""

import threading
import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from inventory import actions as shelf
from inventory.models import Fill, Flag
from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tiles.models import Tile


def days(n):
    return timezone.now() - timedelta(days=n)


def touched(*tiles):
    """Numbers of the tiles that are spoiled."""
    rows = Tile.objects.filter(pk__in=[t.pk for t in tiles]).with_standing().filter(is_spoiled=True)
    return sorted(rows.values_list("number", flat=True))


@pytest.fixture
def fill(manager):
    return make.fill(by=manager, days_ago=60)


@pytest.fixture
def glazed(fill, manager):
    """A tile glazed out of the fill on a day that lies `n` days back."""

    def tile(number, n):
        return make.tile(number, by=manager, layers=[{"fill": fill, "applied_at": days(n)}])

    return tile


def test_a_second_report_joins_the_first_as_a_note(fill, member, people):
    first = shelf.raise_flag(by=member, fill=fill, kind="contaminated", note="blue specks")
    second = shelf.raise_flag(by=people["other"], fill=fill, kind="contaminated", note="on mine too")
    assert second == first
    assert [(n.text, n.by) for n in first.notes.all()] == [("on mine too", people["other"])]
    third = shelf.raise_flag(by=people["other"], fill=fill, kind="dried_out")
    assert third != first
    assert Flag.objects.open().count() == 2


def test_several_other_troubles_may_be_open_and_each_says_what_it_is(fill, member):
    shelf.raise_flag(by=member, fill=fill, kind="other", note="smells")
    shelf.raise_flag(by=member, fill=fill, kind="other", note="a sponge fell in")
    assert Flag.objects.open().count() == 2
    with pytest.raises(Refused, match="Say what is wrong"):
        shelf.raise_flag(by=member, fill=fill, kind="other", note="  ")


@pytest.mark.parametrize(
    ("first", "second", "wanted"),
    [(3, 9, 9), (9, 3, 9), (3, None, None), (None, 3, None), (None, None, None)],
)
def test_a_second_report_never_narrows_since(fill, member, people, first, second, wanted):
    moment = {n: days(n) for n in (3, 9)} | {None: None}
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=moment[first])
    shelf.raise_flag(by=people["other"], fill=fill, kind="contaminated", since=moment[second])
    flag.refresh_from_db()
    assert flag.since == moment[wanted]


def test_only_the_raiser_withdraws_and_only_until_somebody_else_has_acted(fill, member, people, technician):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    for person in (people["other"], technician):
        with pytest.raises(NotAllowed, match="Only who raised a flag"):
            shelf.withdraw_flag(by=person, flag=flag)
    shelf.add_note(by=member, flag=flag, text="perhaps it was my brush")
    assert shelf.may_withdraw(member, flag)
    shelf.add_note(by=people["other"], flag=flag, text="no, I see it too")
    with pytest.raises(NotAllowed, match="until somebody else has acted"):
        shelf.withdraw_flag(by=member, flag=flag)


def test_a_withdrawn_flag_is_closed_and_cannot_be_closed_again(fill, member, technician):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    shelf.withdraw_flag(by=member, flag=flag, reason="it was my brush")
    assert (flag.outcome, flag.closed_by, flag.outcome_note) == ("withdrawn", member, "it was my brush")
    with pytest.raises(Refused, match="closed meanwhile: withdrawn"):
        shelf.clear_flag(by=technician, flag=flag, outcome="put_right")


def test_members_do_not_clear(fill, member):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    with pytest.raises(NotAllowed, match="technician, manager"):
        shelf.clear_flag(by=member, flag=flag, outcome="mistaken", note="I looked")
    flag.refresh_from_db()
    assert flag.is_open


@pytest.mark.parametrize(
    ("close", "left"),
    [
        (lambda flag, by: shelf.withdraw_flag(by=flag.raised_by, flag=flag), []),
        (lambda flag, by: shelf.clear_flag(by=by, flag=flag, outcome="mistaken", note="iron spots"), []),
        (lambda flag, by: shelf.clear_flag(by=by, flag=flag, outcome="put_right"), ["A", "B"]),
        (lambda flag, by: shelf.clear_flag(by=by, flag=flag, outcome="emptied"), ["A", "B"]),
    ],
    ids=["withdrawn", "mistaken", "put right", "emptied"],
)
def test_only_mistaken_or_withdrawn_lifts_what_was_touched(fill, glazed, member, technician, close, left):
    tiles = [glazed("A", 20), glazed("B", 2)]
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    assert touched(*tiles) == ["A", "B"]
    close(flag, technician)
    assert touched(*tiles) == left
    # However it ended, nothing open is left on the fill: who takes it now is not warned of what is over.
    assert Fill.objects.with_standing().get(pk=fill.pk).is_contaminated is False


def test_a_flag_reaches_from_since_to_put_right_both_ends_counted(fill, glazed, member, technician):
    since, right = days(20), days(5)
    before, at_since, at_right, after = (glazed(n, 0) for n in ("before", "since", "right", "after"))
    instants = (since - timedelta(seconds=1), since, right, right + timedelta(seconds=1))
    for tile, moment in zip((before, at_since, at_right, after), instants, strict=True):
        tile.layers.update(applied_at=moment)
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=since)
    assert touched(before, at_since, at_right, after) == ["after", "right", "since"]
    shelf.clear_flag(by=technician, flag=flag, outcome="put_right", put_right_at=right)
    assert touched(before, at_since, at_right, after) == ["right", "since"]


def test_a_layer_of_an_unknown_moment_is_touched(fill, glazed, member):
    tile = glazed("U", 1)
    tile.layers.update(applied_at=None)
    shelf.raise_flag(by=member, fill=fill, kind="wrong_label", since=days(1))
    assert touched(tile) == ["U"]


def test_what_is_emptied_has_left_its_bucket(fill, member, technician):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    shelf.clear_flag(by=technician, flag=flag, outcome="emptied")
    fill.refresh_from_db()
    assert fill.ended_at is not None
    assert fill.level == "empty"
    assert Change.objects.filter(kind="inventory.fill", object_id=fill.pk, verb="ended").count() == 1


def test_emptied_is_said_of_a_fill_that_ended_before(fill, member, technician):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    shelf.end_fill(by=technician, fill=fill, why="thrown away", ended_at=days(3))
    shelf.clear_flag(by=technician, flag=flag, outcome="emptied")
    fill.refresh_from_db()
    assert (flag.outcome, fill.ended_why) == ("emptied", "thrown away")


def test_a_widened_reach_stands_in_the_history(fill, member, people):
    shelf.raise_flag(by=member, fill=fill, kind="contaminated", since=days(2))
    shelf.raise_flag(by=people["other"], fill=fill, kind="contaminated")
    change = Change.objects.get(verb="widened a flag")
    assert (change.actor, change.after) == (people["other"], {"since": None})


@pytest.mark.django_db(transaction=True)
def test_two_reporters_at_once_make_one_flag():
    make.studio()
    fill, people = make.fill(), [make.person() for _n in range(4)]
    together = threading.Barrier(len(people))
    wrong = []

    def report(person):
        try:
            together.wait(timeout=20)
            shelf.raise_flag(
                by=person, fill=Fill.objects.get(pk=fill.pk), kind="contaminated", note=person.name
            )
        except Exception as error:  # a thread's failure must fail the test
            wrong.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=report, args=[person]) for person in people]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert wrong == []
    flag = Flag.objects.get()
    assert {flag.note, *flag.notes.values_list("text", flat=True)} == {person.name for person in people}


def test_a_report_sent_twice_counts_once(fill, member, technician):
    mine, second = uuid.uuid4(), uuid.uuid4()
    for _twice in range(2):
        flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated", note="grit", id=mine)
        assert flag.pk == mine
    assert not flag.notes.exists()
    for _twice in range(2):
        joined = shelf.raise_flag(by=technician, fill=fill, kind="contaminated", note="grit too", id=second)
        assert joined == flag
    assert [note.pk for note in flag.notes.all()] == [second]
    shelf.clear_flag(by=technician, flag=flag, outcome="put_right")
    assert shelf.raise_flag(by=member, fill=fill, kind="contaminated", note="grit", id=mine) == flag
    assert not Flag.objects.open().exists()


def test_nothing_is_put_right_tomorrow(fill, member, technician):
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    with pytest.raises(Refused) as refused:
        shelf.clear_flag(
            by=technician, flag=flag, outcome="put_right", put_right_at=timezone.now() + timedelta(hours=1)
        )
    assert list(refused.value.problems) == ["put_right_at"]


def test_nobody_withdraws_a_flag_after_a_technician_put_right_where_it_went(fill, member, technician):
    target = make.fill(fill.glaze)
    flag = shelf.raise_flag(by=member, fill=fill, kind="contaminated")
    shelf.transfer(by=technician, source=fill, target=target)
    assert shelf.may_withdraw(member, flag)
    shelf.clear_flag(by=technician, flag=Flag.objects.get(fill=target), outcome="put_right")
    assert not shelf.may_withdraw(member, flag)
