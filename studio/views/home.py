"""Today, the page of further things, and a word to robots."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio import registry
from studio.pages import PersonRequest, needs
from studio.roles import may
from studio.stations import in_reach
from studio.today import due_for, steps_left


@require_safe
@needs("studio.see")
def home(request: PersonRequest) -> HttpResponse:
    """What needs somebody, the person's own things first; `?show=` opens one group."""
    show = request.GET.get("show", "")
    at_a_station = request.station is not None  # type: ignore[attr-defined]
    context = {
        "groups": due_for(request.user, show),
        "show": show,
        "steps": [] if show else steps_left(request.user),
        # A station is everybody's: who stands there is shown the tour on a screen of their own.
        "offers_tour": not show and not at_a_station and request.user.tour_put_away_at is None,
    }
    return render(request, "studio/today.html", context)


@require_safe
@needs("studio.see")
def more(request: HttpRequest) -> HttpResponse:
    lines = [item for item in registry.nav if item.where in registry.MORE and may(request.user, item.act)]
    if request.station is not None:  # type: ignore[attr-defined]
        lines = [line for line in lines if in_reach(line.url_name)]
    groups = [
        (title, [line for line in lines if line.where == where]) for where, title in registry.MORE.items()
    ]
    return render(
        request, "studio/more.html", {"groups": [(title, found) for title, found in groups if found]}
    )


@login_not_required
@require_safe
def robots(request: HttpRequest) -> HttpResponse:
    """Nothing here is for search engines, open bucket pages included."""
    return HttpResponse("User-agent: *\nDisallow: /\n", content_type="text/plain")
