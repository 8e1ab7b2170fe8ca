"""Clay bodies and kilns: what the studio has, new ones, changes, and putting one away."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.forms.parts import ArchiveForm
from inventory.views.asking import ask, bound
from inventory.views.listing import listed
from studio.pages import PersonRequest, needs
from tiles import actions
from tiles.filters import BodyFilter, KilnFilter
from tiles.forms.clay import BodyForm, KilnForm
from tiles.models import ClayBody, Kiln

PAGE = ["GET", "HEAD", "POST"]
OLDEST = ("created_at", "id")


@require_safe
@needs("studio.see")
def bodies(request: PersonRequest) -> HttpResponse:
    context = listed(request, BodyFilter, ClayBody.objects.all(), ordering=OLDEST)
    return render(request, "tiles/body_list.html", context)


@require_safe
@needs("studio.see")
def kilns(request: PersonRequest) -> HttpResponse:
    context = listed(request, KilnFilter, Kiln.objects.all(), ordering=OLDEST)
    return render(request, "tiles/kiln_list.html", context)


@require_http_methods(PAGE)
@needs("body.change")
def new_body(request: PersonRequest) -> HttpResponse:
    words = {"title": _("A new clay body"), "button": _("Keep it")}
    return _new(request, BodyForm, actions.create_body, "tiles:body-list", words)


@require_http_methods(PAGE)
@needs("kiln.change")
def new_kiln(request: PersonRequest) -> HttpResponse:
    words = {"title": _("A new kiln"), "button": _("Keep it")}
    return _new(request, KilnForm, actions.create_kiln, "tiles:kiln-list", words)


@require_http_methods(PAGE)
@needs("body.change")
def body(request: PersonRequest, pk: Any) -> HttpResponse:
    found = get_object_or_404(ClayBody, pk=pk)
    aside = {"away": reverse("tiles:body-archive", args=[pk])}
    return _edit(request, found, BodyForm, actions.change_body, reverse("tiles:body-list"), aside)


@require_http_methods(PAGE)
@needs("kiln.change")
def kiln(request: PersonRequest, pk: Any) -> HttpResponse:
    found = get_object_or_404(Kiln, pk=pk)
    aside = {"away": reverse("tiles:kiln-archive", args=[pk])}
    back = reverse("tiles:kiln", args=[pk])
    return _edit(request, found, KilnForm, actions.change_kiln, back, aside)


@require_http_methods(PAGE)
@needs("body.change")
def archive_body(request: PersonRequest, pk: Any) -> HttpResponse:
    return _archive(request, get_object_or_404(ClayBody, pk=pk), "tiles:body-list")


@require_http_methods(PAGE)
@needs("kiln.change")
def archive_kiln(request: PersonRequest, pk: Any) -> HttpResponse:
    return _archive(request, get_object_or_404(Kiln, pk=pk), "tiles:kiln-list")


def _new(
    request: PersonRequest, form_class: Any, create: Any, back: str, words: dict[str, str]
) -> HttpResponse:
    def act(form: Any) -> str:
        made = create(by=request.user, **form.values())
        messages.success(request, _("%(it)s is kept.") % {"it": made})
        return reverse(back)

    return ask(
        request, bound(request, form_class), act, back=reverse(back), template="tiles/body_form.html", **words
    )


def _edit(
    request: PersonRequest, found: Any, form_class: Any, change: Any, back: str, aside: dict[str, str]
) -> HttpResponse:
    def act(form: Any) -> str:
        changed = change(
            by=request.user, obj=found, values=form.values(), version=form.cleaned_data["version"]
        )
        messages.success(request, _("%(it)s is changed.") % {"it": changed})
        return back

    form = bound(request, form_class, instance=found)
    words = {"title": str(found), "button": _("Keep"), **aside, "record": found}
    return ask(request, form, act, back=back, template="tiles/body_form.html", **words)


def _archive(request: PersonRequest, found: Any, back: str) -> HttpResponse:
    def act(form: Any) -> Any:
        sent = form.cleaned_data
        actions.archive(by=request.user, obj=found, version=sent["version"], reason=sent["reason"])
        messages.success(
            request, _("%(it)s is put away. What was made with it keeps its name.") % {"it": found}
        )
        return reverse(back)

    words = {"title": _("Put %(it)s away") % {"it": found}, "button": _("Put it away")}
    words["intro"] = _("It leaves the lists. What was made with it keeps its name.")
    form = bound(request, ArchiveForm, initial={"version": found.version})
    return ask(request, form, act, back=reverse(back), template="tiles/body_form.html", **words)
