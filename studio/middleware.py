"""Every request knows its studio, its time zone and its units."""

from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone, translation

from studio import units
from studio.models import Studio


class StudioMiddleware:
    """Sets `request.studio`, the studio's time zone and language, and the person's units for this request."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if request.path.startswith("/static/") or request.path == "/healthz":
            return self.get_response(request)
        if "\0" in request.path:
            # No record is called so, and PostgreSQL does not even look.
            raise Http404
        studio = Studio.current()
        request.studio = studio  # type: ignore[attr-defined]
        person = request.user if request.user.is_authenticated else None
        with (
            timezone.override(studio.time_zone),
            translation.override(studio.language),
            units.shown_as(
                temperature=person.temperature_unit if person else studio.temperature_unit,
                amounts=person.units if person else studio.units,
            ),
        ):
            return self.get_response(request)
