"""What is flagged, and what a flag touches."""

import uuid

from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from inventory.actions import may_withdraw
from inventory.filters import FlagFilter
from inventory.models import Flag, FlagPhoto
from inventory.queries import OPEN_FIRST
from inventory.reach import spells_of
from inventory.sentences import flag_sentence
from inventory.views.asking import MemberRequest
from inventory.views.listing import listed
from inventory.views.touched import touched
from studio.pages import needs
from studio.photo_answers import sized_answer
from studio.registry import panels_for
from studio.roles import may


@require_safe
@needs("studio.see")
def index(request: MemberRequest) -> HttpResponse:
    """Open ones unless asked otherwise, and always first; closed ones stay for reading."""
    data = request.GET.copy()
    data.setdefault("open", "true")
    flags = Flag.objects.visible_to(request.user).with_story().open_first()
    context = listed(request, FlagFilter, flags, data=data, ordering=OPEN_FIRST)
    reach = spells_of(context["rows"])
    context |= {
        "flags": [(flag, len(reach[flag.pk]) - 1) for flag in context["rows"]],
        "panels": panels_for("flag-list", request, reach),
        "shown": data["open"],
    }
    return render(request, "inventory/flag_list.html", context)


@require_safe
@needs("studio.see")
def flag(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Flag.objects.visible_to(request.user).with_story(), pk=pk)
    context = {
        **touched(request, found),
        "to_do": flag_sentence(found.kind) if found.is_open and not found.fill.ended_at else "",
        "may_withdraw": may_withdraw(request.user, found),
        "own_panels": panels_for("flag-own", request, found),
        "may_clear": found.is_open and may(request.user, "flag.clear"),
    }
    return render(request, "inventory/flag.html", context)


@require_safe
@needs("studio.see")
def photo(request: MemberRequest, pk: uuid.UUID, size: str) -> HttpResponseBase:
    """A photo of a flag in one of the served sizes. The file as sent may say where it was taken: nobody gets it."""
    flags = Flag.objects.visible_to(request.user)
    return sized_answer(request, get_object_or_404(FlagPhoto, pk=pk, flag__in=flags).key, size)
