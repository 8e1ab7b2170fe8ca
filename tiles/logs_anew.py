"""Which stored logs are not as the cones' present table gives them: for doctor, and for working them out anew."""

from collections.abc import Iterator
from math import isclose
from typing import Any

from tiles.logs import reckoned, unpacked
from tiles.models import FiringLog

AT_ONCE = 200  # logs in memory: a long one unpacks to a megabyte


def not_as_reckoned() -> Iterator[tuple[FiringLog, dict[str, Any]]]:
    """Each such log with its firing, and the columns that are due. The last digits may be another machine's."""
    for log in FiringLog.objects.select_related("firing").order_by("pk").iterator(chunk_size=AT_ONCE):
        due = reckoned(unpacked(log, log.firing))
        agree = all(_same(getattr(log, name), value) for name, value in due.items())
        if not agree or log.firing.log_cone != due["cone"]:
            yield log, due


def _same(kept: Any, due: Any) -> bool:
    if isinstance(kept, float) and isinstance(due, float):
        return isclose(kept, due, rel_tol=1e-6, abs_tol=1e-6)
    return bool(kept == due)
