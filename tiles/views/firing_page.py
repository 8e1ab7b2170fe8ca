"""One firing: where it stands, what is in it, what it saw, and the way on."""

from dataclasses import replace
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from inventory.sentences import cone_words
from studio.pages import PersonRequest, needs
from studio.roles import may
from tiles.actions.moving import NEXT
from tiles.actions.stepping_back import BACK_TO
from tiles.calc.witness import TileCone
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.kiln_sentences import caution_words
from tiles.loads import pieces_in, rows_seen, stopped_for
from tiles.log_panel import log_context
from tiles.models import Firing, TileFiring
from tiles.queries_marks import set_aside, standing_marks
from tiles.sentences import basis_words, bend_words
from tiles.views.curves import plan_context
from tiles.views.firing_kiln import kiln_context
from tiles.views.firings import find
from tiles.witness_words import contradiction_words

# What is pressed to take a firing on, by the state that it leads to.
STEPS = {
    "planned": gettext_lazy("Back to planned"),
    "loading": gettext_lazy("Begin to load"),
    "firing": gettext_lazy("It is firing now"),
    "cooling": gettext_lazy("It is cooling"),
    "unloaded": gettext_lazy("It is unloaded"),
    "stopped": gettext_lazy("It was stopped early"),
}
# These are asked about once more on a page of their own: a wrong tap would change every tile.
ASKED = ("firing", "unloaded", "stopped")
ONWARD = ("loading", "firing", "cooling", "unloaded")


@require_safe
@needs("studio.see")
def page(request: PersonRequest, number: int) -> HttpResponse:
    return show(request, find(number))


def show(request: PersonRequest, firing: Firing, *, status: int = 200, **more: Any) -> HttpResponse:
    return render(request, "tiles/firing.html", {**page_context(request, firing), **more}, status=status)


def page_context(request: PersonRequest, firing: Firing) -> dict[str, Any]:
    """What the page shows: steps, cautions, the tiles that the person may see, where they stand and what they saw."""
    rows = rows_seen(firing, request.user)
    stopped = stopped_for(firing, rows)
    states = NEXT[Firing.State(firing.state)] if may(request.user, "firing.change") else set()
    return {
        "firing": firing,
        "set_aside": set_aside(standing_marks().filter(tile__in=[row.tile_id for row in rows])),
        "steps": [(state, STEPS[state], state in ASKED) for state in ONWARD if state in states],
        "begins": firing.state == Firing.State.PLANNED and "loading" in states,
        "asides": [
            (state, STEPS[state], state in ASKED) for state in ("planned", "stopped") if state in states
        ],
        "goes_back": may(request.user, "firing.change") and firing.state in BACK_TO,
        "unload_url": unload_url(firing) if firing.state in ("unloaded", "stopped") else "",
        "cautions": caution_words(firing.kiln),
        "hung": [(row, hung(row)) for row in rows],
        "hidden": firing.tile_firings.count() - len(rows),
        "pieces": pieces_in(firing),
        "stopped": [one for one in stopped if not one.reason and firing.takes_tiles],
        "overridden": [one for one in stopped if one.reason],
        "witness": witness_lines(firing),
        "contradictions": contradiction_words(firing),
        **kiln_context(request, firing),
        **plan_context(request, firing, rows),
        **log_context(request, firing),
    }


def unload_url(firing: Firing) -> str:
    """Where its tiles are looked at, one after another. A bisque has nothing to look at."""
    return "" if firing.kind == Firing.Kind.BISQUE else reverse("tiles:unload", args=[firing.number])


def hung(row: TileFiring) -> TileCard:
    """The tile as it stood in this firing: where, and the cone that it saw with what that rests on."""
    seen = TileCone(row.cone, row.cone_basis, row.cone_below)
    cone = cone_words(row.cone) if row.cone else ""
    place = row.position or _("position not noted")
    return replace(
        card(row.tile),
        facts=tuple(fact for fact in (place, cone) if fact),
        note=basis_words(seen) if row.cone_basis else "",
    )


def witness_lines(firing: Firing) -> list[tuple[str, str, str, str]]:
    """Position, cone, type and bend of each witness cone, in words."""
    return [
        (
            cone.position or _("position not noted"),
            cone_words(cone.cone),
            str(cone.get_cone_type_display()),
            bend_words(cone.bend_degrees),
        )
        for cone in firing.witness_cones.all()
    ]
