"""What a flag touches, for a page: buckets here, tiles and combinations by the panels of others."""

from typing import Any

from inventory.actions.spread import LIFTED
from inventory.models import Flag
from inventory.reach import spells
from inventory.views.asking import MemberRequest
from studio.registry import panels_for


def touched(request: MemberRequest, flag: Flag) -> dict[str, Any]:
    """Context of `inventory/_touched.html`; the flag may be one that is only thought of."""
    found = spells(flag)
    return {
        "flag": flag,
        "is_thought_of": flag._state.adding,
        "is_lifted": flag.outcome in LIFTED,
        "reached": found[1:],
        "panels": panels_for("flag", request, flag),
    }
