"""The wall: every tile that a person may see, as they hang, and the same as a table."""

from urllib.parse import urlencode

from django.conf import settings
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe
from django_htmx.http import push_url

from studio.errors import Refused
from studio.exports import csv_answer
from studio.filtering import filtered, named
from studio.pages import needs
from studio.paging import page_of
from tiles.exports import table_lines
from tiles.filters import WallFilter
from tiles.forms.wall import plain_query, set_filters
from tiles.models import Tile
from tiles.queries import HANGING
from tiles.rails import by_cone

COUNTED = 1000
CHUNK = 200
ALWAYS_SHOWN = ("q", "surface")


@require_safe
@needs("studio.see")
def wall(request: HttpRequest) -> HttpResponse:
    """The whole page, or only what hangs when the filters ask for it again."""
    tiles = Tile.objects.visible_to(request.user).for_the_wall()
    filterset, rows, problems = filtered(WallFilter, request.GET, tiles, request)
    hung: list[Tile] = []
    previous_url = next_url = None
    if not problems:
        try:
            hung, previous_url, next_url = page_of(request, rows, ordering=HANGING)
        except Refused as refused:
            problems = refused.problems
    here = reverse("tiles:wall")
    query = plain_query(request.GET)
    context = {
        "form": filterset.form,
        "problems": named(filterset.form, problems),
        "rails": [(rail, _narrowed(rail.cone, request)) for rail in by_cone(hung)],
        "count": "" if problems else count_words(rows),
        "asked": [] if problems else set_filters(filterset.form, request.GET),
        "query": query,
        "previous_url": previous_url,
        "next_url": next_url,
    }
    if request.htmx and not request.htmx.history_restore_request:  # type: ignore[attr-defined]
        answer = render(request, "tiles/_wall_hung.html", context)
        address = f"{here}?{query}" if query else here
        # Enter in a field asks twice, by its change and by the form: one step back must be enough.
        if request.htmx.current_url_abs_path != address:  # type: ignore[attr-defined]
            push_url(answer, address)
    else:
        form = filterset.form
        context["folded"] = [form[name] for name in form.fields if name not in ALWAYS_SHOWN]
        answer = render(request, "tiles/wall.html", context)
    patch_vary_headers(answer, ["HX-Request"])
    return answer


@require_safe
@needs("studio.see")
def table(request: HttpRequest) -> HttpResponse | StreamingHttpResponse:
    """The tiles of the same question as CSV, sent line by line."""
    tiles = Tile.objects.visible_to(request.user).for_the_wall()
    _filterset, rows, problems = filtered(WallFilter, request.GET, tiles, request)
    if problems:
        said = "\n".join(f"{field}: {' '.join(sentences)}" for field, sentences in problems.items())
        return HttpResponse(said + "\n", status=400, content_type="text/plain; charset=utf-8")
    root = settings.PUBLIC_URL or request.build_absolute_uri("/").rstrip("/")
    lines = table_lines(rows.order_by(*HANGING).iterator(chunk_size=CHUNK), root=root)
    return csv_answer(lines, "wall.csv")


def count_words(rows) -> str:
    """'312 tiles'; beyond a thousand nobody needs the number, and counting takes long."""
    count = rows.order_by().values("pk")[: COUNTED + 1].count()
    if count > COUNTED:
        return _("over 1 000 tiles")
    return ngettext("%(count)s tile", "%(count)s tiles", count) % {"count": count}


def _narrowed(cone, request: HttpRequest) -> str:
    """The address of one cone's rail on its own; nothing when it hangs alone already."""
    if cone is None or (request.GET.get("cone_min") and request.GET.get("cone_max")):
        return ""
    kept = [(name, value) for name, values in request.GET.lists() for value in values if value]
    kept = [(name, value) for name, value in kept if name not in ("cone_min", "cone_max", "cursor")]
    return "?" + urlencode([*kept, ("cone_min", cone.code), ("cone_max", cone.code)])
