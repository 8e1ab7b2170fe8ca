"""A pot that is only planned: what its record says of it and food, before anybody has glazed it."""

from collections.abc import Sequence
from dataclasses import replace

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from inventory.sentences import cone_range_words
from studio.pages import PersonRequest, needs
from tiles.drawing_words import AREAS
from tiles.drawings import StackDrawing, StackLayer, stack
from tiles.food import PotLayer, record_of_pot
from tiles.forms.pot import PlannedPot
from tiles.models import ClayBody
from tiles.planning import findings_of_pot


@require_safe
@needs("studio.see")
def plan(request: PersonRequest) -> HttpResponse:
    pot = PlannedPot(request.GET)
    food, found, drawing = None, [], None
    if pot.is_ready:
        said = pot.form.cleaned_data
        drawing = drawn(pot.layers(), said["body"])
        food = record_of_pot(
            pot.layers(), said["body"], said["cone"], said["form"], kiln=said["kiln"], person=request.user
        )
        found = findings_of_pot(pot.drafts(), body=said["body"], cone=said["cone"], kiln=said["kiln"])
    context = {"pot": pot, "stack": drawing, "food": food, "findings": found}
    return render(request, "tiles/pot.html", context)


def drawn(layers: Sequence[PotLayer], body: ClayBody | None) -> StackDrawing:
    """The layers as they are meant: where each goes, and the cones of its glaze. How thick nobody knows yet."""
    glazes = [one.glaze for one in layers]
    drawing = stack(
        [
            StackLayer(g.name, g.kind, coats=1, area=one.area, colour=g.colour or None)
            for g, one in zip(glazes, layers, strict=True)
        ],
        body.colour if body else None,
    )
    words = [
        _("%(where)s, for %(cones)s")
        % {"where": AREAS[one.area], "cones": cone_range_words(one.glaze.cone_low, one.glaze.cone_high)}
        for one in layers
    ]
    shapes = tuple(replace(shape, words=words[shape.number - 1]) for shape in drawing.layers)
    names = ", ".join(glaze.name for glaze in glazes)
    clay = body.name if body else _("the clay")
    return replace(
        drawing,
        layers=shapes,
        desc=_("From the clay outwards: %(names)s.") % {"names": names},
        clay_words=clay,
    )
