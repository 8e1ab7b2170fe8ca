"""What needs somebody today: the groups that the apps found, a person's own things first."""

from typing import Any

from studio import registry
from studio.models import Invitation, Person
from studio.registry import DueGroup, FirstStep
from studio.roles import may

SHOWN = 4  # what a phone shows in one row
MOST = 60  # of one group that is asked for by name


def due_for(person: Any, show: str = "") -> list[DueGroup]:
    """Every group that is not empty; with `show` only that one, with many more of its items."""
    most = MOST if show else SHOWN
    found = [group for find in registry.due_finders for group in find(person, most) if group.count]
    if show:
        found = [group for group in found if group.kind == show]
    return sorted(found, key=lambda group: (not group.is_mine, group.order))


def steps_left(person: Any) -> list[FirstStep]:
    """What a new studio still lacks, for whoever sets it up."""
    if not may(person, "studio.settings"):
        return []
    return [step for step in registry.first_steps if may(person, step.act) and not step.is_done()]


def somebody_is_invited() -> bool:
    return Person.objects.count() > 1 or Invitation.objects.exists()
