"""A teacher's class lists: made, changed, printed, closed."""

import uuid
from typing import Any

from django.conf import settings
from django.contrib import messages
from django.db.models import Count, Sum
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import change_class_list, close_class_list, create_class_list, new_address
from inventory.actions.classes import barred_by
from inventory.filters import ClassListFilter
from inventory.forms import ClassListForm
from inventory.models import ClassList, Fill
from inventory.qr import qr_path
from inventory.sentences import unfit_sentence
from inventory.views.asking import MemberRequest, ask, bound
from inventory.views.listing import listed
from inventory.views.spoken import spoken
from studio.addresses import handed_on
from studio.models import Person
from studio.pages import VersionedForm, needs
from studio.roles import may

WRITES = ["GET", "HEAD", "POST"]
ENTRIES_SHOWN = 200


@require_safe
@needs("class.make")
def index(request: MemberRequest) -> HttpResponse:
    lists = ClassList.objects.visible_to(request.user).select_related("teacher")
    context = listed(request, ClassListFilter, lists.annotate(buckets=Count("fills")))
    return render(request, "inventory/class_list_list.html", context)


def _found(request: MemberRequest, pk: uuid.UUID) -> ClassList:
    return get_object_or_404(ClassList.objects.visible_to(request.user).select_related("teacher"), pk=pk)


@require_safe
@needs("class.make")
def page(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    """Its address, its buckets as they stand now, and what was used."""
    found = _found(request, pk)
    address = handed_on(request, found.page_path)
    fills = found.fills.select_related("glaze", "bucket__place").with_standing().in_walking_order()
    entries = found.entries.select_related("fill__glaze", "fill__bucket", "stock_entry")
    context = {
        "class_list": found,
        "address": address,
        "qr": qr_path(address),
        "has_public_url": bool(settings.PUBLIC_URL),
        "rows": [(fill, spoken(fill), why_barred(found, fill)) for fill in fills],
        "entries": entries[:ENTRIES_SHOWN],
        "sums": entries.aggregate(entries=Count("pk"), makers=Sum("makers"), pieces=Sum("pieces")),
    }
    return render(request, "inventory/class_list.html", context)


@require_safe
@needs("class.make")
def paper(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    """The address and the cautions, to hang at the glaze table. It names nobody."""
    found = _found(request, pk)
    address = handed_on(request, found.page_path)
    context = {"class_list": found, "address": address, "qr": qr_path(address)}
    return render(request, "inventory/class_list_paper.html", context)


def why_barred(class_list: ClassList, fill: Any) -> str:
    """Why the class cannot use a fill of its list now; '' when it can."""
    barred = barred_by(class_list, fill)
    if barred == "unfit":
        return unfit_sentence(fill)
    return {
        "": "",
        "gone": _("It was emptied, so the class no longer sees it."),
        "do_not_use": _("The class sees it barred until this is cleared."),
    }[barred]


def _form(request: MemberRequest, teacher: Person, instance: ClassList | None) -> tuple[Any, dict[str, Any]]:
    """The form, and the words around it. Whether it is for children decides what can be chosen."""
    asked = request.POST.get("for_children", request.GET.get("children"))
    children = instance is not None and instance.for_children if asked is None else asked in ("1", "True")
    here = Fill.objects.for_a_class_of(teacher).select_related("glaze", "bucket__place")
    fills = list(here.with_standing().in_walking_order())
    offered = [fill for fill in fills if not children or fill.is_for_children]
    left_out = [(fill, unfit_sentence(fill)) for fill in fills if children and not fill.is_for_children]
    kwargs = {} if instance is None else {"instance": instance}
    form = bound(request, ClassListForm, offered=offered, children=children, **kwargs)
    context = {
        "children": children,
        "left_out": left_out,
        "chips": [(fill, box, spoken(fill)) for fill, box in form.chips],
        "may_fill": may(request.user, "fill.change"),
        "template": "inventory/class_list_form.html",
    }
    return form, context


@require_http_methods(WRITES)
@needs("class.make")
def new(request: MemberRequest) -> HttpResponse:
    form, context = _form(request, request.user, None)
    return ask(
        request,
        form,
        lambda form: create_class_list(by=request.user, fills=form.cleaned_data["fills"], **form.values()),
        back=reverse("inventory:class-list-list"),
        title=_("A list for children") if context["children"] else _("A class list"),
        button=_("Make it"),
        **context,
    )


@require_http_methods(WRITES)
@needs("class.make")
def edit(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = _found(request, pk)
    form, context = _form(request, found.teacher, found)
    return ask(
        request,
        form,
        lambda form: change_class_list(
            by=request.user,
            obj=ClassList.objects.get(pk=found.pk),
            values=form.values(),
            fills=form.cleaned_data["fills"],
            version=form.cleaned_data["version"],
        ),
        back=found.get_absolute_url(),
        title=_("Change %(name)s") % {"name": found.name},
        button=_("Keep"),
        **context,
    )


@require_http_methods(WRITES)
@needs("class.make")
def close(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = _found(request, pk)

    def act(form: VersionedForm) -> ClassList:
        messages.success(request, _("Closed. Its address shows nothing any more."))
        return close_class_list(by=request.user, obj=found)

    return ask(
        request,
        bound(request, VersionedForm),
        act,
        back=found.get_absolute_url(),
        title=_("Close %(name)s") % {"name": found.name},
        button=_("Close it"),
        intro=_("Its address stops working at once, and does not come back. What the class used stays."),
    )


@require_http_methods(WRITES)
@needs("class.make")
def address(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    found = _found(request, pk)

    def act(form: VersionedForm) -> ClassList:
        made = new_address(by=request.user, obj=found)
        messages.success(request, _("This is the new address. Print it again."))
        return made

    return ask(
        request,
        bound(request, VersionedForm),
        act,
        back=found.get_absolute_url(),
        title=_("A new address for %(name)s") % {"name": found.name},
        button=_("Make a new address"),
        intro=_("When the old one went too far round. The old one stops working at once."),
    )
