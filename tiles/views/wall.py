"""The wall: every tile that a person may see, as they hang, and the same as a table."""

from typing import Any
from urllib.parse import urlencode

from django.http import HttpResponse, QueryDict, StreamingHttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe
from django_htmx.http import push_url

from inventory.walk import Walk
from studio.addresses import handed_on
from studio.errors import Refused
from studio.exports import csv_answer, csv_refused
from studio.filtering import filtered, named
from studio.pages import PersonRequest, needs
from studio.paging import page_of
from tiles.exports import table_lines
from tiles.facets import COUNTED, facets
from tiles.filters_wall import HANG, WallFilter
from tiles.forms.wall import plain_query, set_filters
from tiles.models import SavedSearch, Tile
from tiles.queries_hanging import hanging
from tiles.rails import Rail
from tiles.rails_hung import hung_by

CHUNK = 200


def groups() -> list[tuple[str, tuple[str, ...]]]:
    """The questions behind the button, in folds of a few."""
    return [
        (_("Fired"), ("cone_min", "cone_max", "atmosphere", "kiln", "firing", "body")),
        (_("How it came out"), ("opacity", "movement", "verdict", "with_fault", "without_fault")),
        (_("Glazes"), ("glaze", "glaze_top", "glaze_under", "combination", "layers")),
        (_("Labels and flags"), ("label", "standing", "use_then", "use_now")),
        (_("Where, who, when"), ("place", "maker", "date_from", "date_to", "state")),
    ]


@require_safe
@needs("studio.see")
def wall(request: PersonRequest) -> HttpResponse:
    """The whole page, or only what hangs when the filters ask for it again."""
    tiles = Tile.objects.visible_to(request.user).for_the_wall()
    filterset, rows, problems = filtered(WallFilter, request.GET, tiles, request)
    hung: list[Tile] = []
    previous_url = next_url = None
    if not problems:
        try:
            hung, previous_url, next_url = page_of(request, rows, ordering=hanging(request.GET))
        except Refused as refused:
            problems = refused.problems
    here = reverse("tiles:wall")
    query = plain_query(request.GET)
    how = (not problems and request.GET.get("hang")) or "cone"
    context = {
        "form": filterset.form,
        "problems": named(filterset.form, problems),
        "rails": [(rail, _narrowed(rail, request)) for rail in hung_by(how, hung, Walk.now())],
        "count": "" if problems else count_words(rows),
        "asked": [] if problems else set_filters(filterset.form, request.GET),
        "hangings": [(str(words), one == how, _with(request, hang=one)) for one, words in HANG],
        "hang": how,
        "query": query,
        "saved": SavedSearch.objects.visible_to(request.user).select_related("person"),
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
        context["folds"] = _folds(filterset.form, request)
        answer = render(request, "tiles/wall.html", context)
    patch_vary_headers(answer, ["HX-Request"])
    return answer


@require_safe
@needs("studio.see")
def counts(request: PersonRequest) -> HttpResponse:
    """How many tiles each answer would leave: they arrive beside the answers a moment after the tiles."""
    tiles = Tile.objects.visible_to(request.user).for_the_wall()
    filterset, _rows, problems = filtered(WallFilter, request.GET, tiles, request)
    found = [] if problems else facets(filterset, tiles)
    return render(request, "tiles/_wall_counts.html", {"facets": found})


@require_safe
@needs("studio.see")
def table(request: PersonRequest) -> HttpResponse | StreamingHttpResponse:
    """The tiles of the same question as CSV, sent line by line."""
    tiles = Tile.objects.visible_to(request.user).for_the_wall()
    _filterset, rows, problems = filtered(WallFilter, request.GET, tiles, request)
    if problems:
        return csv_refused(problems)
    root = handed_on(request, "/").rstrip("/")
    lines = table_lines(rows.order_by(*hanging(request.GET)).iterator(chunk_size=CHUNK), root=root)
    return csv_answer(lines, "wall.csv")


def count_words(rows: Any) -> str:
    """'312 tiles'; beyond a thousand nobody needs the number, and counting takes long."""
    count = rows.order_by().values("pk")[: COUNTED + 1].count()
    if count > COUNTED:
        return _("over 1 000 tiles")
    return ngettext("%(count)s tile", "%(count)s tiles", count) % {"count": count}


def _folds(form: Any, request: PersonRequest) -> list[tuple[str, list[Any], bool]]:
    """(title, fields, whether one of them is asked) of each fold."""
    return [
        (title, [form[name] for name in names], any(request.GET.get(name) for name in names))
        for title, names in groups()
    ]


def _narrowed(rail: Rail, request: PersonRequest) -> str:
    """The address of one rail on its own; nothing when it hangs alone already, or no question means just that."""
    if not rail.alone or all(request.GET.getlist(name) == [value] for name, value in rail.alone.items()):
        return ""
    return _with(request, **rail.alone)


def _with(request: PersonRequest, **asked: str) -> str:
    """The query string of this wall with other answers to some questions."""
    query = QueryDict(plain_query(request.GET), mutable=True)
    for name in asked:
        query.pop(name, None)
    kept = [(name, value) for name, values in query.lists() for value in values]
    return "?" + urlencode([*kept, *((n, v) for n, v in asked.items() if (n, v) != ("hang", "cone"))])
