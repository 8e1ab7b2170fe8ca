"""Somebody's own account: name and units, password, tokens."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from studio.actions.people import change_own_password, set_preferences
from studio.actions.stations import set_pin
from studio.actions.tokens import issue_token, revoke_token
from studio.errors import Refused
from studio.forms import NewPinForm, PasswordForm, PreferencesForm, TokenForm
from studio.models import Pin, Token
from studio.pages import PersonRequest, needs, refuse
from studio.roles import may


@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.see")
def account(request: PersonRequest) -> HttpResponse:
    person = request.user
    kept = {f: getattr(person, f) for f in ("name", "temperature_unit", "units")}
    form = PreferencesForm(request.POST if request.method == "POST" else None, initial=kept)
    if form.is_bound and form.is_valid():
        try:
            set_preferences(by=person, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("Kept."))
            return redirect("studio:account")
    return render(request, "studio/account.html", {"form": form})


@sensitive_post_parameters("old", "new", "again")
@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.see")
def password(request: PersonRequest) -> HttpResponse:
    form = PasswordForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            person = change_own_password(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            update_session_auth_hash(request, person)
            messages.success(request, _("The password is changed. Other devices have to log in again."))
            return redirect("studio:account")
    return render(request, "studio/account_password.html", {"form": form})


@sensitive_post_parameters("pin", "again")
@require_http_methods(["GET", "HEAD", "POST"])
@needs("token.own")
def pin(request: PersonRequest) -> HttpResponse:
    """One's PIN for stations: set or replaced, never shown."""
    form = NewPinForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            set_pin(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("The PIN is set. Use it with your name at a station of the studio."))
            return redirect("studio:account")
    has_one = Pin.objects.filter(person=request.user).exists()
    return render(request, "studio/account_pin.html", {"form": form, "has_one": has_one})


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@needs("token.own")
def tokens(request: PersonRequest) -> HttpResponse:
    """The keys of this person. A new one is in the answer to the POST itself, so that nothing stores it."""
    devices = may(request.user, "token.device")
    form = TokenForm(request.POST if request.method == "POST" else None, devices=devices)
    if form.is_bound and form.is_valid():
        try:
            token, key = issue_token(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            return render(request, "studio/token_shown.html", {"token": token, "key": key})
    own = Token.objects.filter(owner=request.user)
    return render(request, "studio/account_tokens.html", {"form": form, "tokens": own})


@require_POST
@needs("token.own")
def revoke(request: PersonRequest, id: UUID) -> HttpResponse:
    token = get_object_or_404(Token, pk=id, owner=request.user)
    revoke_token(by=request.user, token=token)
    messages.success(request, _("%(token)s is revoked: it opens nothing any more.") % {"token": token})
    return redirect("studio:account-tokens")
