"""The way in, the page of further things, and a word to robots."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from studio import registry
from studio.pages import needs
from studio.roles import may
from studio.stations import in_reach


@require_safe
@needs("studio.see")
def home(request: HttpRequest) -> HttpResponse:
    """To the word of the frame that an app marked as home, else to the first one."""
    words = [item for item in registry.nav if item.where == "frame" and may(request.user, item.act)]
    return redirect(next((item for item in words if item.home), words[0]).url_name)


@require_safe
@needs("studio.see")
def more(request: HttpRequest) -> HttpResponse:
    lines = [item for item in registry.nav if item.where == "more" and may(request.user, item.act)]
    if request.station is not None:  # type: ignore[attr-defined]
        lines = [line for line in lines if in_reach(line.url_name)]
    return render(request, "studio/more.html", {"lines": lines})


@login_not_required
@require_safe
def robots(request: HttpRequest) -> HttpResponse:
    """Nothing here is for search engines, open bucket pages included."""
    return HttpResponse("User-agent: *\nDisallow: /\n", content_type="text/plain")
