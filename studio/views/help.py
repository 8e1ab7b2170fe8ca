"""Help in words: a short tour by what one comes for, and what to take care of."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from studio.actions.tour import put_tour_away
from studio.pages import PersonRequest, needs
from studio.registry import panels_for

PARTS = ("help-table", "help-shapes", "help-kiln", "help-class")


@require_safe
@needs("studio.see")
def tour(request: HttpRequest) -> HttpResponse:
    """Five short parts; the apps say what belongs to them."""
    parts = {part.replace("-", "_"): panels_for(part, request, None) for part in PARTS}
    return render(request, "studio/help.html", parts)


@require_POST
@needs("studio.see")
def put_away(request: PersonRequest) -> HttpResponse:
    put_tour_away(by=request.user)
    return redirect("studio:home")


@require_safe
@needs("studio.see")
def cautions(request: HttpRequest) -> HttpResponse:
    """Dust, food, kilns: what the trade takes care of, in a page to point at."""
    return render(request, "studio/cautions.html")
