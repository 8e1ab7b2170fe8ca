"""Error pages, each a plain sentence; problem documents under /api/."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from studio.api.problems import plain_response

API = "/api/"


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if request.path.startswith(API):
        return plain_response(request, 400, _("This request cannot be read."))
    return render(request, "400.html", status=400)


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    sentence = str(exception or "") or _("Your role does not reach here.")
    if request.path.startswith(API):
        return plain_response(request, 403, sentence)
    return render(request, "403.html", {"exception": sentence}, status=403)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if request.path.startswith(API):
        return plain_response(request, 404, _("There is nothing here under this address."))
    return render(request, "404.html", status=404)


def server_error(request: HttpRequest) -> HttpResponse:
    if request.path.startswith(API):
        return plain_response(request, 500, _("Something broke here. It has been written to the log."))
    return render(request, "500.html", status=500)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    if request.path.startswith(API):
        return plain_response(
            request, 403, _("The CSRF token is missing or old. Send X-CSRFToken, or use a token.")
        )
    return render(request, "csrf_failure.html", status=403)
