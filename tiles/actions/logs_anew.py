"""Working all logs out anew, as after new coefficients."""

from collections.abc import Iterator
from typing import Any

from django.db import transaction

from inventory.calc.cones import Cone
from studio.actions import touch
from tiles.actions.evidence import refresh_cones
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
            _change_cone(log, due)
        yield firing, before


def _write_columns(log: FiringLog, due: dict[str, Any]) -> bool:
    here = FiringLog.objects.filter(pk=log.pk, count=log.count, last_s=log.last_s)
    return bool(here.update(**due))


@transaction.atomic
def _change_cone(log: FiringLog, due: dict[str, Any]) -> None:
    """The firing is locked before its log is written, as whoever sends readings does it."""
    firing = touch(log.firing)
    if _write_columns(log, due):
        firing.log_cone = due["cone"]
        firing.save(update_fields=["log_cone"])
        refresh_cones(firing)
    elif FiringLog.objects.filter(firing=firing).exists():
        reckon_log_anew(firing=firing)
