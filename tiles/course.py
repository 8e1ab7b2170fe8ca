"""How a firing went besides its cone, as far as its log tells: hold at the top and cooling."""

from dataclasses import dataclass

from tiles.models import Firing


@dataclass(frozen=True, slots=True)
class Course:
    """`hold_minutes` at the top, and how fast it cooled over the first hours, °C/h. None: not known."""

    hold_minutes: float | None = None
    cooling_c_per_h: float | None = None


def course_of(firing: Firing) -> Course:
    """Not known without readings; the place where a log's readings tell it."""
    return Course()
