"""What is stored of a log: doctor sees where it is not what the readings give, and a command puts it right."""

import io

import numpy as np
import pytest
from django.core.management import call_command

from inventory.calc.cones import Cone
from tests import make
from tiles.actions.logs import keep_log
from tiles.doctor import logs_agree
from tiles.models import Firing, FiringLog, TileFiring


@pytest.fixture
def fired(member, manager):
    """A firing with a tile and no witness cone, whose log climbs at 60 °C/h to the maker's 1222 °C for cone 6."""
    tile = make.fired_tile(number="1", by=member)
    firing = TileFiring.objects.get(tile=tile).firing
    seconds = np.arange(0, 1202 * 60 + 1, 60)
    keep_log(by=member, firing=firing, seconds=seconds, celsius=20 + seconds / 60)
    return firing


def reckon():
    out = io.StringIO()
    call_command("reckon_logs", stdout=out)
    return out.getvalue()


def test_a_log_as_it_was_kept_is_well(fired):
    assert FiringLog.objects.get().cone == Cone.parse("6")
    assert logs_agree() == []
    assert "1 logs, 0 of them" in reckon()


@pytest.mark.parametrize(
    "column",
    [
        {"cone": "5", "cone_fraction": 0.2},
        {"cone_fraction": 0.9},
        {"cone_high": "10"},
        {"rate_c_per_h": None},
        {"computed_with": "another table"[:16]},
    ],
)
def test_what_is_not_of_the_present_table_is_seen_and_put_right(fired, column):
    FiringLog.objects.update(**column)
    assert "reckon_logs" in logs_agree()[0]
    assert "1 of them worked out anew" in reckon()
    assert logs_agree() == []


def test_the_cone_goes_on_to_the_firing_and_its_tiles(fired):
    FiringLog.objects.update(cone="4")
    Firing.objects.filter(pk=fired.pk).update(log_cone="4")
    TileFiring.objects.filter(firing=fired).update(cone="4")
    said = reckon()
    assert "cone 4 by its log is now 6" in said
    fired.refresh_from_db()
    assert fired.log_cone == Cone.parse("6")
    row = TileFiring.objects.get(firing=fired)
    assert (row.cone, row.cone_basis) == (Cone.parse("6"), "log")
    assert logs_agree() == []


def test_a_firing_that_forgot_its_log_is_seen(fired):
    Firing.objects.filter(pk=fired.pk).update(log_cone=None)
    assert logs_agree()
    reckon()
    assert logs_agree() == []
