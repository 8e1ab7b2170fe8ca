"""What every page's frame needs."""

from django.http import HttpRequest

from studio import registry
from studio.models import Studio
from studio.roles import May, may


def frame(request: HttpRequest) -> dict:
    match = request.resolver_match
    person = getattr(request, "user", None)
    return {
        "nav_items": [item for item in registry.nav if item.where == "frame" and may(person, item.act)],
        "studio": getattr(request, "studio", None) or Studio(name="Tilekeep"),
        "nav": match.view_name if match else "",
        "may": May(person),
    }
