"""A pot that is only planned: what its record says of it and food, before anybody has glazed it."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.food import record_of_pot
from tiles.forms.pot import PlannedPot
from tiles.planning import findings_of_pot


@require_safe
@needs("studio.see")
def plan(request: PersonRequest) -> HttpResponse:
    pot = PlannedPot(request.GET)
    food, found = None, []
    if pot.is_ready:
        said = pot.form.cleaned_data
        food = record_of_pot(
            pot.layers(), said["body"], said["cone"], said["form"], kiln=said["kiln"], person=request.user
        )
        found = findings_of_pot(
            [{"glaze": one.glaze, "fill": one.fill, "area": one.area} for one in pot.layers()],
            body=said["body"],
            cone=said["cone"],
            kiln=said["kiln"],
        )
    return render(request, "tiles/pot.html", {"pot": pot, "food": food, "findings": found})
