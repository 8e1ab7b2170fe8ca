"""Which stored logs are not as the cones' present table gives them: for doctor, and for whoever works them out anew."""

from collections.abc import Iterator
from math import isclose
from typing import Any

from tiles.logs import reckoned, unpacked
from tiles.models import FiringLog

AT_ONCE = 200  # logs in memory: a long one unpacks to a megabyte


def is_as_reckoned(log: FiringLog) -> bool:
    """Whether every column that is worked out equals a working out; the last digits may be another machine's."""
    columns = reckoned(unpacked(log, log.firing))
    agree = all(_same(getattr(log, name), value) for name, value in columns.items())
    return agree and log.firing.log_cone == log.cone


def _same(kept: Any, due: Any) -> bool:
    if isinstance(kept, float) and isinstance(due, float):
        return isclose(kept, due, rel_tol=1e-6, abs_tol=1e-6)
    return bool(kept == due)


def not_as_reckoned() -> Iterator[FiringLog]:
    """The logs of which that is not so, with their firings."""
    for log in FiringLog.objects.select_related("firing").order_by("pk").iterator(chunk_size=AT_ONCE):
        if not is_as_reckoned(log):
            yield log
