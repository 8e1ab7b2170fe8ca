"""What every page's frame needs."""

from django.http import HttpRequest

from studio.models import Studio
from studio.roles import May


def frame(request: HttpRequest) -> dict:
    match = request.resolver_match
    return {
        "studio": getattr(request, "studio", None) or Studio(name="Tilekeep"),
        "nav": match.view_name if match else "",
        "may": May(getattr(request, "user", None)),
    }
