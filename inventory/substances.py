"""What of concern is in a glaze: the one place where that is asked."""

from collections.abc import Iterable
from typing import Any

from inventory.models import GlazeSubstance


def substances_of(glazes: Iterable[Any]) -> dict[Any, list[GlazeSubstance]]:
    """What was read of each glaze (by its key) and not taken back, in one query.

    Today that is only what somebody noted by hand. The analysis of a recipe belongs here too, as unsaved
    GlazeSubstance rows with `read_in` 'recipe': whoever asks this function then has it without a change.
    """
    found: dict[Any, list[GlazeSubstance]] = {glaze.pk: [] for glaze in glazes}
    rows = GlazeSubstance.objects.filter(glaze__in=found, taken_back_at=None)
    for row in rows.select_related("by").order_by("substance", "created_at"):
        found[row.glaze_id].append(row)
    return found
