"""Where things stand or hang, in the order in which one walks."""

import uuid

from django.contrib import messages
from django.db.models import Count, Q
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import archive as put_away
from inventory.actions import change_place, create_place
from inventory.filters import PlaceFilter
from inventory.forms import ArchiveForm, PlaceForm
from inventory.models import Place
from inventory.views.asking import MemberRequest, ask, bound
from inventory.views.listing import listed
from studio.pages import needs
from studio.registry import panels_for

WRITES = ["GET", "HEAD", "POST"]
LIST = "inventory:place-list"


@require_safe
@needs("studio.see")
def index(request: MemberRequest) -> HttpResponse:
    standing = Count("buckets", filter=Q(buckets__archived_at=None))
    places = Place.objects.select_related("parent").annotate(bucket_count=standing)
    context = listed(request, PlaceFilter, places, ordering=("order", "name", "id"))
    context["panels"] = panels_for("place-list", request, context["rows"])
    return render(request, "inventory/place_list.html", context)


@require_http_methods(WRITES)
@needs("place.change")
def new(request: MemberRequest) -> HttpResponse:
    def act(form: PlaceForm) -> str:
        create_place(by=request.user, **form.values())
        return LIST

    return ask(
        request,
        bound(request, PlaceForm),
        act,
        back=reverse(LIST),
        title=_("A new place"),
        button=_("Keep"),
    )


@require_http_methods(WRITES)
@needs("place.change")
def edit(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Place, pk=pk)

    def act(form: PlaceForm) -> str:
        version = form.cleaned_data["version"]
        change_place(by=request.user, obj=found, values=form.values(), version=version)
        return LIST

    return ask(
        request,
        bound(request, PlaceForm, instance=found),
        act,
        back=reverse(LIST),
        title=_("Change %(place)s") % {"place": found.name},
        button=_("Keep"),
        archive_url=reverse("inventory:place-archive", args=[found.pk]),
    )


@require_http_methods(WRITES)
@needs("place.change")
def archive(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Place, pk=pk)

    def act(form: ArchiveForm) -> str:
        put_away(by=request.user, obj=found, **form.cleaned_data)
        messages.success(request, _("%(place)s is put away.") % {"place": found.name})
        return LIST

    return ask(
        request,
        bound(request, ArchiveForm, initial={"version": found.version}),
        act,
        back=reverse(LIST),
        title=_("Put %(place)s away") % {"place": found.name},
        button=_("Put away"),
        intro=_("It leaves the lists. What stands there keeps it until it is moved."),
    )
