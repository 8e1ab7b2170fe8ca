"""Glazes, and what goes on a pot beside them."""

import uuid
from decimal import Decimal

from django.contrib import messages
from django.db.models import QuerySet
from django.db.models.functions import Lower
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import archive as put_away
from inventory.actions import change_glaze, create_glaze, may_take_back
from inventory.filters import GlazeFilter
from inventory.forms import ArchiveForm, GlazeForm
from inventory.hazards import hazard_notes, silica_note
from inventory.models import Fill, Glaze
from inventory.register import may_see_price
from inventory.sentences import cone_range_words
from inventory.substances import substances_of
from inventory.views.asking import MemberRequest, ask, bound
from inventory.views.bucket import child_words, day_words, label_words, window_words
from inventory.views.listing import listed
from inventory.views.spoken import spoken
from studio.models import Person
from studio.pages import needs
from studio.registry import panels_for

WRITES = ["GET", "HEAD", "POST"]
FORMER_SHOWN = 20


@require_safe
@needs("studio.see")
def index(request: MemberRequest) -> HttpResponse:
    glazes = Glaze.objects.annotate(sort_name=Lower("name"))
    context = listed(request, GlazeFilter, glazes, ordering=("sort_name", "id"))
    return render(request, "inventory/glaze_list.html", context)


@require_safe
@needs("studio.see")
def glaze(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    """Its facts, and every bucket in which it stands; what its author claims is kept apart."""
    found = get_object_or_404(Glaze, pk=pk)
    fills = (
        Fill.objects.visible_to(request.user)
        .in_use()
        .filter(glaze=found)
        .select_related("glaze", "bucket__place", "bucket__owner", "label_read_by", "child_fit_read_by")
        .with_standing()
        .in_walking_order()
    )
    inside = substances_of([found])[found.pk]
    facts = [
        (_("Kind"), found.get_kind_display()),
        (_("Bought or mixed here"), found.get_origin_display()),
        *([(_("Maker"), f"{found.maker} {found.product_code}".strip())] if found.maker else []),
        (_("Fired to"), cone_range_words(found.cone_low, found.cone_high)),
        (_("Wanted SG"), window_words(found)),
        (_("Expected surface"), found.get_surface_display()),
        (_("Expected opacity"), found.get_opacity_display()),
        (_("Expected movement"), movement_words(found.expected_movement_mm), "mm"),
    ]
    context = {
        "glaze": found,
        "facts": facts,
        "lids": [
            {
                "bucket": fill.bucket,
                "fill": fill,
                "spoken": spoken(fill),
                "facts": facts_of_fill(fill, request.user),
            }
            for fill in fills
        ],
        "substances": [(row, may_take_back(request.user, row)) for row in inside],
        "notes": hazard_notes(inside),
        "silica": silica_note(),
        "former_fills": former_fills(request.user, found),
        "panels": panels_for("glaze", request, found),
    }
    return render(request, "inventory/glaze.html", context)


def facts_of_fill(fill: Fill, person: Person) -> list[tuple[str, str]]:
    """What one asks of a bucket beside its lid; what was paid is for those who buy."""
    rows = [(_("Batch or lot"), fill.lot), (_("Mixed or opened"), day_words(fill.made_on))]
    if fill.glaze.origin == Glaze.Origin.BOUGHT:
        rows += [(_("Its label says"), label_words(fill)), (_("For children"), child_words(fill))]
    if may_see_price(person, fill) and (fill.container_size or fill.price is not None):
        price = "" if fill.price is None else number_format(fill.price)
        rows += [(_("Size of the container"), fill.container_size), (_("Price paid"), price)]
    return rows


def former_fills(person: Person, glaze: Glaze) -> QuerySet[Fill]:
    """Where it stood before, newest first."""
    ended = Fill.objects.visible_to(person).filter(glaze=glaze).exclude(ended_at=None)
    return ended.select_related("bucket", "glaze").order_by("-ended_at")[:FORMER_SHOWN]


def movement_words(mm: Decimal | None) -> str:
    """Without a nought behind the point that nobody measured."""
    return "" if mm is None else number_format(mm.quantize(Decimal(1)) if mm == mm.to_integral() else mm)


@require_http_methods(WRITES)
@needs("glaze.change")
def new(request: MemberRequest) -> HttpResponse:
    return ask(
        request,
        bound(request, GlazeForm),
        lambda form: create_glaze(by=request.user, **form.values()),
        back=reverse("inventory:glaze-list"),
        title=_("A new glaze"),
        button=_("Keep"),
    )


@require_http_methods(WRITES)
@needs("glaze.change")
def edit(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Glaze, pk=pk)
    return ask(
        request,
        bound(request, GlazeForm, instance=found),
        lambda form: change_glaze(
            by=request.user, obj=found, values=form.values(), version=form.cleaned_data["version"]
        ),
        back=found.get_absolute_url(),
        title=_("Change %(glaze)s") % {"glaze": found.name},
        button=_("Keep"),
    )


@require_http_methods(WRITES)
@needs("glaze.change")
def archive(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Glaze, pk=pk)

    def act(form: ArchiveForm) -> str:
        put_away(by=request.user, obj=found, **form.cleaned_data)
        messages.success(request, _("%(glaze)s is put away.") % {"glaze": found.name})
        return reverse("inventory:glaze-list")

    return ask(
        request,
        bound(request, ArchiveForm, initial={"version": found.version}),
        act,
        back=found.get_absolute_url(),
        title=_("Put %(glaze)s away") % {"glaze": found.name},
        button=_("Put away"),
        intro=_("It leaves the lists. Its buckets and tiles keep it."),
    )
