"""Saved searches: keeping one, giving it another name, and putting it away."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.forms.parts import ArchiveForm
from inventory.views.asking import ask, bound
from studio.pages import PersonRequest, needs
from tiles import actions
from tiles.forms.searches import SearchForm
from tiles.models import SavedSearch

PAGE = ["GET", "HEAD", "POST"]
TEMPLATE = "tiles/search_form.html"


@require_http_methods(PAGE)
@needs("search.keep")
def save(request: PersonRequest) -> HttpResponse:
    """The search of the wall that led here, under a name. `?query=` is what was asked."""
    query = request.POST.get("query") or request.GET.get("query", "")

    def act(form: Any) -> str:
        made = actions.save_search(by=request.user, **form.values())
        messages.success(request, _("“%(name)s” is saved.") % {"name": made})
        return made.get_absolute_url()

    form = bound(request, SearchForm, initial={"query": query})
    words = {"title": _("Save this search"), "button": _("Save"), "query": query}
    return ask(request, form, act, back=_wall(query), template=TEMPLATE, **words)


@require_http_methods(PAGE)
@needs("search.keep")
def page(request: PersonRequest, pk: Any) -> HttpResponse:
    """Another name, shared or not."""
    found = get_object_or_404(SavedSearch.objects.editable_by(request.user), pk=pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data["version"]
        changed = actions.change_search(by=request.user, obj=found, values=form.values(), version=sent)
        messages.success(request, _("“%(name)s” is changed.") % {"name": changed})
        return changed.get_absolute_url()

    form = bound(request, SearchForm, instance=found)
    words = {"title": str(found), "button": _("Keep"), "query": found.query}
    away = reverse("tiles:search-archive", args=[pk])
    return ask(request, form, act, back=found.get_absolute_url(), template=TEMPLATE, away=away, **words)


@require_http_methods(PAGE)
@needs("search.keep")
def archive(request: PersonRequest, pk: Any) -> HttpResponse:
    found = get_object_or_404(SavedSearch.objects.editable_by(request.user), pk=pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data
        actions.archive_search(by=request.user, obj=found, version=sent["version"], reason=sent["reason"])
        messages.success(request, _("“%(name)s” is put away.") % {"name": found})
        return reverse("tiles:wall")

    form = bound(request, ArchiveForm, initial={"version": found.version})
    words = {"title": _("Put “%(name)s” away") % {"name": found}, "button": _("Put it away")}
    return ask(request, form, act, back=found.get_absolute_url(), template=TEMPLATE, **words)


def _wall(query: str) -> str:
    return reverse("tiles:wall") + (f"?{query}" if query else "")
