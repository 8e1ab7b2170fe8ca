"""The log of a firing: kept from a file, and taken back. Live readings are in live.py, files in log_drafts.py."""

from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from numpy.typing import ArrayLike

from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.evidence import refresh_cones
from tiles.calc.log_marks import Mark
from tiles.calc.readings import pack
from tiles.logs import Readings, log_of, reckoned, unpacked
from tiles.models import Firing, FiringLog, LogTakenBack

# Readings come while the kiln is hot; of a kiln that is being loaded too, because people forget to say that it fires.
TAKES_READINGS = (Firing.State.LOADING, Firing.State.FIRING, Firing.State.COOLING)
# Clocks of instruments run a little fast; a reading of tomorrow is of a wrong clock.
AHEAD = timedelta(minutes=10)
# An instrument whose clock was never set says 1970; no log is older, and no zone's clock can show the year 0.
EARLIEST = datetime(1970, 1, 1, tzinfo=UTC) - timedelta(days=1)
HAS_A_LOG = (*TAKES_READINGS, Firing.State.UNLOADED, Firing.State.STOPPED)


@transaction.atomic
def keep_log(
    *,
    by: Person,
    firing: Firing,
    seconds: ArrayLike,
    celsius: ArrayLike,
    begins_at: datetime | None = None,
    marks: list[Mark] | None = None,
    how: dict[str, Any] | None = None,
    version: int | None = None,
) -> FiringLog:
    """Keep the whole log of a firing, and work out the cones anew; a log that is there is taken back first."""
    require(by, "firing.log")
    touch(firing, version)
    firing.refresh_from_db()
    if firing.state not in HAS_A_LOG:
        raise Refused(
            _("%(firing)s is only planned. Say first that it is loaded or firing.") % {"firing": firing}
        )
    if log_of(firing) is not None:
        raise Refused(_("This firing has a log already. Take that back first; nothing of it is thrown away."))
    arrays = np.asarray(seconds, np.int64), np.asarray(celsius, np.float64)
    if begins_at is not None and begins_at > timezone.now():
        raise Refused({"begins_at": _("That is still to come. Say when the first reading was taken.")})
    if begins_at is not None and begins_at < EARLIEST:
        raise Refused(
            {"begins_at": _("That is before there were such logs. Say when the first reading was taken.")}
        )
    if begins_at is not None and begins_at + timedelta(seconds=int(arrays[0][-1])) > timezone.now() + AHEAD:
        said = _(
            "By this the last reading is still to come. Say when the first one was taken, by the studio's clock."
        )
        raise Refused({"begins_at": said})
    log = FiringLog(firing=firing, source=FiringLog.Source.FILE, how=how or {})
    write(log, firing, Readings(*arrays, begins_at, marks or []))
    _cone_follows(firing, log)
    record_change(by=by, verb="kept a log", obj=firing, after=in_words(log))
    return log


def write(log: FiringLog, firing: Firing, readings: Readings) -> None:
    """Store the readings and what is worked out of them. The caller holds the firing."""
    log.begins_at = readings.begins_at
    log.readings = pack(readings.seconds, readings.celsius)
    log.marks = readings.marks
    for column, value in reckoned(readings).items():
        setattr(log, column, value)
    log.save()
    firing.log = log


def follow(firing: Firing, log: FiringLog) -> bool:
    """Write the log's cone on its firing if it is another one; tiles and version follow. The firing is locked."""
    if firing.log_cone == log.cone:
        return False
    touch(firing)
    _cone_follows(firing, log)
    return True


def _cone_follows(firing: Firing, log: FiringLog | None) -> None:
    firing.log_cone = log.cone if log else None
    firing.save(update_fields=["log_cone"])
    refresh_cones(firing)


@transaction.atomic
def reckon_log_anew(*, firing: Firing) -> bool:
    """Work a stored log out once more, as after new coefficients. True where that changed its cone."""
    Firing.objects.select_for_update(no_key=True).get(pk=firing.pk)
    firing.refresh_from_db()
    log = FiringLog.objects.get(firing=firing)
    readings = unpacked(log, firing)
    FiringLog.objects.filter(pk=log.pk).update(**reckoned(readings))
    log.refresh_from_db()
    return follow(firing, log)


@transaction.atomic
def take_log_back(*, by: Person, firing: Firing, reason: str, version: int | None = None) -> LogTakenBack:
    """The log is no longer the firing's. Its readings are kept beside it, and can be had as a file and read again."""
    require(by, "firing.change")
    if not reason.strip():
        raise Refused({"reason": _("Say why, such as: the log of another firing.")})
    touch(firing, version)
    firing.refresh_from_db()
    log = log_of(firing)
    if log is None:
        raise Refused(_("This firing has no log to take back."))
    taken = LogTakenBack.objects.create(
        firing=firing,
        by=by,
        reason=reason.strip()[:200],
        source=log.source,
        begins_at=log.begins_at,
        readings=log.readings,
        count=log.count,
        how=log.how,
    )
    before = in_words(log)
    log.delete()
    firing.refresh_from_db()
    _cone_follows(firing, None)
    record_change(by=by, verb="took the log back", obj=firing, before=before, reason=reason.strip())
    return taken


def in_words(log: FiringLog) -> dict[str, Any]:
    """What the history says of a log."""
    return {
        "readings": log.count,
        "source": log.source,
        "hottest_c": log.peak_c,
        "cone": log.cone.code if log.cone else None,
        "file": log.how.get("file", ""),
    }
