"""What the kiln adds to the page of a firing: when it is expected to have cooled, and what it took."""

from typing import Any

from studio.models import Studio
from studio.pages import PersonRequest
from tiles.calc.opening import published
from tiles.cooling_now import STATES, cooling_now
from tiles.cooling_words import COOLING_CAUTIONS, NEITHER, NOT_LEAVE, cooling_words, opening_words
from tiles.energy_used import used, with_things
from tiles.models import Firing
from tiles.wear_words import cost_words, kwh_words, share_words


def kiln_context(request: PersonRequest, firing: Firing) -> dict[str, Any]:
    """For `_firing_cooling.html` and `_firing_energy.html`."""
    return {"cooling": cooling_said(firing), "energy": _energy(firing)}


def cooling_said(firing: Firing) -> dict[str, Any] | None:
    """Only while it is hot: nothing of this is shown of a firing that is planned or over."""
    if firing.state not in STATES:
        return None
    found = next(iter(cooling_now([firing])), None)
    if found is None:
        return None
    return {
        "words": cooling_words(found),
        "is_forecast": found.trouble is None,
        "not_leave": NEITHER if found.trouble else NOT_LEAVE,
        "last_c": found.last_c,
        "last_at": found.last_at,
        "cautions": COOLING_CAUTIONS,
        "published": [(opening_words(figure), figure.source) for figure in published()],
    }


def _energy(firing: Firing) -> dict[str, Any] | None:
    """Once it has been hot."""
    if firing.state in (*Firing.TAKES_TILES, Firing.State.FIRING):
        return None
    counted = with_things(Firing.objects.select_related("kiln", "log").filter(pk=firing.pk)).get()
    studio = Studio.current()
    took = used(counted, studio)
    if took is None:
        return {"words": ""}
    return {"words": kwh_words(took), "cost": cost_words(took), "share": share_words(took, studio)}
