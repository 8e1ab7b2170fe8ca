"""Reading the witness cones of a firing."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, needs, refuse
from tiles import actions
from tiles.forms.witness import witness_rows
from tiles.views.firing_page import witness_lines
from tiles.views.firings import PAGE, find


@require_http_methods(PAGE)
@needs("firing.change")
def witness(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    rows = witness_rows(firing, request.POST or None)
    version = request.POST.get("version", "")
    if request.method == "POST" and rows.is_valid():
        try:
            actions.set_witness_cones(
                by=request.user,
                firing=firing,
                cones=rows.cones(),
                version=int(version) if version.isascii() and version.isdigit() else None,
            )
            messages.success(request, _("The witness cones are written; every tile's cone follows them."))
            return redirect(firing)
        except Refused as refused:
            _refuse_rows(rows, refused)
        except VersionConflict as error:
            # What was read at the kiln is not thrown away: it stays, beside what is stored now.
            firing.refresh_from_db()
            context = {"firing": firing, "rows": rows, "version": error.current, "conflict": error}
            context["stored"] = witness_lines(firing)
            return render(request, "tiles/firing_witness.html", context, status=409)
    context = {"firing": firing, "rows": rows, "version": version or firing.version}
    return render(request, "tiles/firing_witness.html", context)


def _refuse_rows(rows: Any, refused: Refused) -> None:
    """An action's sentences at the rows that they are about."""
    filled = rows.filled()
    for name, sentences in refused.problems.items():
        _head, _dot, rest = name.partition(".")
        index, _dot, field = rest.partition(".")
        form = filled[int(index)] if index.isdigit() and int(index) < len(filled) else rows.forms[0]
        refuse(form, Refused({field: sentences}))
