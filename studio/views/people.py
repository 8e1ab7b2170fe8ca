"""Who is here, and the manager's part: inviting, roles, closing accounts, new passwords."""

from uuid import UUID

import segno
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.actions.invitations import invite, offer_new_password, withdraw_invitation
from studio.actions.leaving import make_former
from studio.actions.people import change_person
from studio.addresses import handed_on
from studio.errors import Refused
from studio.forms import InviteForm, PersonForm
from studio.models import Invitation, Person
from studio.pages import PersonRequest, needs, refuse
from studio.roles import may


@require_safe
@needs("people.see")
def people(request: PersonRequest) -> HttpResponse:
    """Members see who is here; managers also see closed accounts and open links."""
    manages = may(request.user, "people.change")
    everybody = Person.objects.all() if manages else Person.objects.filter(is_active=True)
    links = Invitation.objects.filter(used_at=None, withdrawn_at=None).select_related("person", "invited_by")
    return render(
        request,
        "studio/people.html",
        {"people": everybody, "links": [link for link in links if link.is_open] if manages else []},
    )


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@needs("people.invite")
def invite_somebody(request: PersonRequest) -> HttpResponse:
    """The address is in the answer to the POST itself, so that nothing stores it."""
    form = InviteForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            invitation, secret = invite(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            return _show_link(request, invitation, secret)
    return render(request, "studio/invite.html", {"form": form})


@require_POST
@needs("people.invite")
def withdraw(request: PersonRequest, id: UUID) -> HttpResponse:
    invitation = get_object_or_404(Invitation, pk=id)
    try:
        withdraw_invitation(by=request.user, invitation=invitation)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("The link is withdrawn: nobody can use it any more."))
    return redirect("studio:people")


@require_http_methods(["GET", "HEAD", "POST"])
@needs("people.change")
def person(request: PersonRequest, id: UUID) -> HttpResponse:
    somebody = get_object_or_404(Person, pk=id)
    kept = {f: getattr(somebody, f) for f in ("name", "role", "is_active")}
    initial = {**kept, "seen": kept}
    form = PersonForm(request.POST if request.method == "POST" else None, initial=initial)
    if form.is_bound and form.is_valid():
        reason = form.cleaned_data["reason"]
        try:
            change_person(by=request.user, person=somebody, values=form.values(), reason=reason)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("Kept."))
            return redirect("studio:people")
    return render(request, "studio/person.html", {"form": form, "somebody": somebody})


@require_http_methods(["GET", "HEAD", "POST"])
@needs("people.change")
def forget(request: PersonRequest, id: UUID) -> HttpResponse:
    """What stays and what goes, and then the act itself: the name is kept nowhere afterwards."""
    somebody = get_object_or_404(Person, pk=id)
    problem = ""
    if request.method == "POST":
        try:
            former = make_former(by=request.user, person=somebody)
        except Refused as refused:
            problem = str(refused)
        else:
            messages.success(request, _("The name is gone. The tiles now say “%(name)s”.") % {"name": former})
            return redirect("studio:people")
    context = {"somebody": somebody, "problem": problem}
    return render(request, "studio/person_forget.html", context)


@never_cache
@require_POST
@needs("people.change")
def new_password(request: PersonRequest, id: UUID) -> HttpResponse:
    somebody = get_object_or_404(Person, pk=id)
    try:
        invitation, secret = offer_new_password(by=request.user, person=somebody)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("studio:person", id=id)
    return _show_link(request, invitation, secret)


def _show_link(request: PersonRequest, invitation: Invitation, secret: str) -> HttpResponse:
    """The address of a one-time link, in letters and as a code for a phone's camera."""
    path = reverse("studio:join", args=[secret])
    address = handed_on(request, path)
    drawing = segno.make(address, error="m", micro=False).svg_inline(
        omitsize=True, dark="#000", light="#fff", title=_("The same address as a code for a phone's camera")
    )
    return render(
        request,
        "studio/link_shown.html",
        # segno writes nothing but the squares and the escaped title.
        {"invitation": invitation, "address": address, "qr": mark_safe(drawing)},  # noqa: S308
    )
