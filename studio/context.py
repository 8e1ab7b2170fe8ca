"""What every page's frame needs."""

from django.http import HttpRequest
from django.urls import reverse

from studio import registry
from studio.models import Studio
from studio.roles import May, may


def frame(request: HttpRequest) -> dict:
    match = request.resolver_match
    person = getattr(request, "user", None)
    items = [item for item in registry.nav if item.where == "frame" and may(person, item.act)]
    return {
        "nav_items": items,
        # A page deeper in, such as one firing, still belongs to its word.
        "nav_within": next((i.url_name for i in items if request.path.startswith(reverse(i.url_name))), ""),
        "studio": getattr(request, "studio", None) or Studio(name="Tilekeep"),
        "nav": match.view_name if match else "",
        "may": May(person),
    }
