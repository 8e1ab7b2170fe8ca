"""What is flagged, and what a flag touches."""

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from inventory.actions import may_withdraw
from inventory.filters import FlagFilter
from inventory.models import Flag
from inventory.views.listing import listed
from studio.pages import needs
from studio.registry import panels_for
from studio.roles import may


@require_safe
@needs("studio.see")
def index(request: HttpRequest) -> HttpResponse:
    """Open ones unless asked otherwise; closed ones stay for reading."""
    data = request.GET.copy()
    data.setdefault("open", "true")
    flags = Flag.objects.visible_to(request.user).select_related("fill__bucket", "fill__glaze", "raised_by")
    context = listed(request, FlagFilter, flags, data=data)
    return render(request, "inventory/flag_list.html", {**context, "open": data["open"] == "true"})


@require_safe
@needs("studio.see")
def flag(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(
        Flag.objects.visible_to(request.user).select_related(
            "fill__bucket", "fill__glaze", "raised_by", "closed_by"
        ),
        pk=pk,
    )
    context = {
        "flag": found,
        "notes": found.notes.select_related("by"),
        "may_withdraw": may_withdraw(request.user, found),
        "may_clear": found.is_open and may(request.user, "flag.clear"),
        "panels": panels_for("flag", request, found),
    }
    return render(request, "inventory/flag.html", context)
