"""A log is kept with what is worked out of it, the tiles' cones follow, and what is taken back is not thrown away."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from studio.errors import Refused
from studio.models import Change
from studio.roles import NotAllowed
from tests import make
from tests.tiles.log_files import PLAIN, readings, table
from tiles import actions as wall
from tiles.actions.events import add_event, take_event_back
from tiles.actions.log_drafts import begin_draft, change_draft, draft_of, keep_draft, read_draft
from tiles.actions.logs import keep_log, reckon_log_anew, take_log_back
from tiles.calc.readings import unpack
from tiles.logs import log_of, readings_of
from tiles.models import FiringEvent, FiringLog, LogDraft

SECONDS, CELSIUS = map(np.array, zip(*readings(), strict=True))


def file(text: str, name: str = "kiln.csv") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, text.encode())


def kept(by, firing, celsius=CELSIUS, **more):
    return keep_log(by=by, firing=firing, seconds=SECONDS, celsius=celsius, **more)


def test_a_log_says_which_cone_it_came_to_and_the_tiles_follow(member):
    tile = make.tile(layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(target="7"), tile)
    assert tile.cone_basis == "planned"
    log = kept(member, firing)
    # The maker's table: cone 6 is down at 1222 °C after a climb at 60 °C/h (fixtures/cones.csv); the log ends there.
    assert (log.count, log.peak_c, log.cone.code) == (700, 1222, "6")
    assert log.cone_low <= log.cone <= log.cone_high
    assert log.rate_c_per_h == pytest.approx(60, abs=1)
    tile.refresh_from_db()
    firing.refresh_from_db()
    assert (firing.log_cone.code, tile.cone.code, tile.cone_basis) == ("6", "6", "log")
    assert unpack(log.readings)[1].tolist() == CELSIUS.tolist()


def test_what_a_mark_takes_out_bends_no_cone(member):
    spiked = CELSIUS.copy()
    spiked[400:402] = 1450
    firing = make.fire(make.firing())
    draft = begin_draft(
        by=member,
        firing=firing,
        file=file(table(lambda s, c: f"{s},{c}", rows=zip(SECONDS, spiked, strict=True))),
    )
    log = keep_draft(by=member, draft=draft)
    assert [one["code"] for one in log.marks] == ["spike"]
    assert (log.peak_c, log.cone.code) == (1222, "6")
    assert np.nanmax(readings_of(firing).celsius) == 1450


def test_below_red_heat_there_is_no_cone(member):
    log = kept(member, make.fire(make.firing()), CELSIUS / 3)
    assert (log.cone, log.peak_c) == (None, pytest.approx(407.3, abs=0.1))


def test_a_log_is_taken_back_with_a_reason_and_can_be_had_again(member, technician):
    tile = make.tile(layers=[{"glaze": make.glaze()}])
    firing = make.fire(make.firing(), tile)
    kept(member, firing)
    with pytest.raises(NotAllowed):
        take_log_back(by=member, firing=firing, reason="x")
    with pytest.raises(Refused, match="Say why"):
        take_log_back(by=technician, firing=firing, reason=" ")
    taken = take_log_back(by=technician, firing=firing, reason="another kiln's")
    tile.refresh_from_db()
    firing.refresh_from_db()
    assert (log_of(firing), firing.log_cone, tile.cone_basis) == (None, None, "planned")
    assert unpack(taken.readings)[1].tolist() == CELSIUS.tolist()
    row = Change.objects.get(verb="took the log back")
    assert (row.reason, row.before["readings"], row.before["cone"]) == ("another kiln's", 700, "6")
    kept(member, firing)
    assert firing.logs_taken_back.count() == 1


def test_one_log_at_a_time_and_none_of_a_firing_that_is_planned(member):
    firing = make.firing()
    with pytest.raises(Refused, match="only planned"):
        kept(member, firing)
    wall.move_firing(by=make.manager(), firing=firing, state="firing")
    kept(member, firing)
    with pytest.raises(Refused, match="has a log already"):
        kept(member, firing)
    with pytest.raises(Refused, match="has a log already"):
        begin_draft(by=member, firing=firing, file=file(PLAIN))


def test_a_log_that_would_run_on_tomorrow_is_of_another_time_zone(member):
    firing = make.fire(make.firing())
    begins_at = timezone.now() - timedelta(hours=1)
    with pytest.raises(Refused, match="last reading is still to come"):
        kept(member, firing, begins_at=begins_at)
    with pytest.raises(Refused, match="before there were such logs"):
        kept(member, firing, begins_at=datetime(1, 1, 1, tzinfo=UTC))
    kept(member, firing, begins_at=timezone.now() - timedelta(seconds=int(SECONDS[-1])))


def test_an_event_is_of_its_firing_also_before_that_has_begun(member):
    firing = wall.move_firing(by=make.manager(), firing=make.firing(), state="loading")
    with pytest.raises(Refused, match="before this firing began"):
        add_event(by=member, firing=firing, words="lit", at=datetime(1, 1, 1, tzinfo=UTC))
    # A phone's clock may be a little ahead, here as everywhere.
    add_event(by=member, firing=firing, words="lit", at=timezone.now() + timedelta(minutes=4))
    with pytest.raises(Refused, match="This lies in the future"):
        add_event(by=member, firing=firing, words="lit", at=timezone.now() + timedelta(minutes=6))


def test_coefficients_that_changed_are_reckoned_anew(member):
    firing = make.fire(make.firing())
    log = kept(member, firing)
    FiringLog.objects.update(cone=make.cone("3"), computed_with="old")
    assert reckon_log_anew(firing=firing) is False  # the firing has the right cone all the time
    log.refresh_from_db()
    assert (log.cone.code, log.computed_with) != ("3", "old")
    assert log.cone.code == "6"


def test_the_guess_of_a_draft_can_be_told_otherwise(member):
    firing = make.fire(make.firing())
    draft = begin_draft(by=member, firing=firing, file=file(PLAIN))
    change_draft(by=member, draft=draft, values={"unit": "f"})
    assert read_draft(draft).log.celsius.max() == pytest.approx((1222 - 32) / 1.8)
    change_draft(by=member, draft=draft, values={"unit": "c", "skip": 11})
    assert read_draft(draft).log.celsius[0] == CELSIUS[10]
    assert FiringLog.objects.count() == 0
    log = keep_draft(by=member, draft=draft)
    assert (log.count, log.how["file"], LogDraft.objects.count()) == (690, "kiln.csv", 0)


def test_a_time_that_starts_anew_is_asked_about(member):
    firing = make.fire(make.firing())
    twice = table(lambda s, c: f"{s},{c}", rows=readings(200) + readings(500), head="s,C\n")
    draft = begin_draft(by=member, firing=firing, file=file(twice))
    with pytest.raises(Refused, match="starts anew") as refused:
        keep_draft(by=member, draft=draft)
    assert list(refused.value.problems) == ["resets"]
    change_draft(by=member, draft=draft, values={"resets": "join"})
    assert keep_draft(by=member, draft=draft).count == 700


def test_a_file_by_local_clocks_is_read_by_those_of_the_studio(member):
    """European clocks went from 2:00 to 3:00 on 30 March 2025 (Directive 2000/84/EC)."""
    text = "time,celsius\n" + "".join(f"2025-03-30 {at},{c}\n" for at, c in CLOCKS_FORWARD)
    draft = begin_draft(by=member, firing=make.fire(make.firing()), file=file(text))
    with timezone.override("Europe/Berlin"):
        log = read_draft(draft).log
    assert np.diff(log.seconds).tolist() == [1800] * 4


CLOCKS_FORWARD = [("01:00", 500), ("01:30", 550), ("03:00", 600), ("03:30", 650), ("04:00", 700)]


def test_a_draft_is_one_for_each_person_and_old_ones_go(member, people):
    firing = make.fire(make.firing())
    begin_draft(by=member, firing=firing, file=file(PLAIN, "one.csv"))
    begin_draft(by=member, firing=firing, file=file(PLAIN, "two.csv"))
    assert LogDraft.objects.get().file_name == "two.csv"
    LogDraft.objects.update(created_at=timezone.now() - timedelta(days=1, minutes=1))
    assert draft_of(member, firing) is None
    begin_draft(by=people["other"], firing=firing, file=file(PLAIN))
    assert LogDraft.objects.get().person == people["other"]


def test_a_file_of_300_mb_is_refused_by_its_size_and_not_read(member):
    class Heavy:
        name, size = "all.csv", 300_000_000

        def read(self, *_args):
            raise AssertionError("it was read")

    with pytest.raises(Refused, match="larger than 25 MB"):
        begin_draft(by=member, firing=make.fire(make.firing()), file=Heavy())


def test_events_are_noted_and_taken_back_by_who_may(member, people, technician):
    firing = make.fire(make.firing())
    event = add_event(by=member, firing=firing, words="vent closed")
    with pytest.raises(NotAllowed):
        take_event_back(by=people["other"], event=event)
    take_event_back(by=member, event=event)
    take_event_back(by=technician, event=add_event(by=member, firing=firing, words="a look in"))
    assert FiringEvent.objects.filter(taken_back_at=None).count() == 0
    assert FiringEvent.objects.count() == 2
    for at, said in (
        (timezone.now() + timedelta(hours=1), "in the future"),
        (timezone.now() - timedelta(days=9), "before"),
    ):
        with pytest.raises(Refused, match=said):
            add_event(by=member, firing=firing, words="x", at=at)
