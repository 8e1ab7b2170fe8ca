"""Two technicians before the same flag at the same moment: every tile is marked once, and taken back once."""

import pytest

from inventory import actions as shelf
from studio.errors import Refused
from studio.models import Change
from studio.roles import Role
from tests import make
from tests.tiles.test_unloading_races import at_once
from tiles.actions import mark_touched, undo_marks
from tiles.models import FlagMark

pytestmark = pytest.mark.django_db(transaction=True)


def test_of_two_who_mark_or_take_back_at_one_moment_one_is_told_that_it_is_done():
    make.studio()
    two = [make.person(Role.TECHNICIAN), make.person(Role.TECHNICIAN)]
    fill = make.fill()
    for n in range(12):
        make.tile(f"D{n}", layers=[{"fill": fill}])
    flag = shelf.raise_flag(by=two[0], fill=fill, kind="contaminated")
    answers = at_once(*(lambda by=by: mark_touched(by=by, flag=flag) for by in two))
    (told,) = [answer for answer in answers if isinstance(answer, Refused)]
    assert "all are marked" in str(told)
    (batch,) = set(FlagMark.objects.values_list("batch", flat=True))
    assert FlagMark.objects.filter(undone_at=None).count() == 12
    back = at_once(*(lambda by=by: undo_marks(by=by, flag=flag, batch=batch) for by in two))
    assert sum(isinstance(answer, Refused) for answer in back) == 1
    assert FlagMark.objects.filter(undone_at=None).count() == 0
    assert Change.objects.filter(verb="took a mark back").count() == 12
