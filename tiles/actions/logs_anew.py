"""Working all logs out anew, as after new coefficients."""

from collections.abc import Iterator
from typing import Any

from inventory.calc.cones import Cone
from tiles.actions.logs import reckon_log_anew
from tiles.logs_anew import not_as_reckoned
from tiles.models import Firing, FiringLog


def reckon_logs_anew() -> Iterator[tuple[Firing, Cone | None]]:
    """Every log that is not as its readings give; each firing with the cone that it had by its log before.

    Nearly always the cone itself stays, and then only the log's own columns are written: the firing and its tiles
    need no lock. A log that got readings meanwhile has been worked out with them and is passed over.
    """
    for log, due in [*not_as_reckoned()]:
        firing = log.firing
        before = firing.log_cone
        if before == due["cone"]:
            _write_columns(log, due)
        else:
            reckon_log_anew(firing=firing)
        yield firing, before


def _write_columns(log: FiringLog, due: dict[str, Any]) -> None:
    FiringLog.objects.filter(pk=log.pk, count=log.count, last_s=log.last_s).update(**due)
