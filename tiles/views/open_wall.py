"""The open wall: what makers show to everybody, as pictures, without log-in and without a word about people."""

import uuid
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.photo_answers import sized_answer
from studio.roles import may
from tiles.cards import best_photo, card, cone_line
from tiles.models import Photo, Tile
from tiles.queries import HANGING
from tiles.views.common import page_or_way_back

SIZES = ("small", "medium")


def while_it_is_open(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Without log-in, as long as the manager keeps the open wall open; out of search engines always."""

    @login_not_required
    @wraps(view)
    def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not (request.studio.open_wall_open or may(request.user, "studio.see")):  # type: ignore[attr-defined]
            return redirect_to_login(request.get_full_path())
        response = view(request, *args, **kwargs)
        response["X-Robots-Tag"] = "noindex, nofollow"
        return response

    return checked


@while_it_is_open
@require_safe
def page(request: HttpRequest) -> HttpResponse:
    tiles = Tile.objects.on_the_open_wall().for_the_wall()
    rows, previous_url, next_url = page_or_way_back(request, tiles, ordering=HANGING)
    context = {
        "hung": [(card(tile), best_photo(tile), cone_line(tile)) for tile in rows],
        "previous_url": previous_url,
        "next_url": next_url,
    }
    return render(request, "tiles/open_wall.html", context)


@while_it_is_open
@require_safe
def sized(request: HttpRequest, photo: uuid.UUID, size: str) -> HttpResponseBase:
    """A tile may be taken off the open wall again, so a browser asks anew after a while."""
    open_tiles = Tile.objects.on_the_open_wall()
    found = Photo.objects.filter(pk=photo, archived_at=None, tile__in=open_tiles).first()
    if found is None or size not in SIZES:
        raise Http404
    response = sized_answer(request, found.key, size)
    response["Cache-Control"] = "private, max-age=300"
    return response
