"""In, out, and locked out."""

import math
from datetime import timedelta
from typing import Any

from axes.models import AccessAttempt
from django.conf import settings
from django.contrib.auth import login, logout
from django.contrib.auth.decorators import login_not_required
from django.db.models import Max
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from studio.attempts import address_of, name_tried
from studio.forms import LogInForm


def onward(request: HttpRequest) -> str:
    """The address that `next` gives, when it is a path of this site; else the first page."""
    asked = request.POST.get("next") or request.GET.get("next", "")
    here = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if here and asked.startswith("/") else resolve_url(settings.LOGIN_REDIRECT_URL)


@login_not_required
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def log_in(request: HttpRequest) -> HttpResponse:
    if request.user.is_authenticated:
        return HttpResponseRedirect(onward(request))
    form = LogInForm(request, request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        login(request, form.get_user())
        return HttpResponseRedirect(onward(request))
    asked = request.POST.get("next") or request.GET.get("next", "")
    return render(request, "studio/login.html", {"form": form, "next": asked})


@login_not_required
@require_POST
def log_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect(settings.LOGOUT_REDIRECT_URL)


def locked_out(request: HttpRequest, response: HttpResponse, credentials: dict[str, Any]) -> HttpResponse:
    """Too many failures of one name from one address. Says when to try again, and how to get in before."""
    failures = AccessAttempt.objects.filter(
        username=name_tried(request, credentials), ip_address=address_of(request)
    )
    cooloff: timedelta = settings.AXES_COOLOFF_TIME
    now = timezone.now()
    until = (failures.aggregate(last=Max("attempt_time"))["last"] or now) + cooloff
    page = render(request, "studio/locked_out.html", {"until": until}, status=429)
    page["Retry-After"] = str(max(1, math.ceil((until - now).total_seconds())))
    return page
