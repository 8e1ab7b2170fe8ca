"""DRF's door to the strict FilterSets."""

from collections.abc import Iterable

from django.utils.translation import gettext as _
from django_filters.rest_framework import DjangoFilterBackend

from studio.errors import Refused
from studio.filtering import PAGING, filtered_or_refused


def refuse_unknown(names: Iterable[str]) -> None:
    """For a list without filters: anything but paging is a mistake."""
    unknown = [name for name in names if name not in PAGING]
    if unknown:
        raise Refused({name: _("There is no filter %(name)s.") % {"name": name} for name in unknown})


class StrictFilterBackend(DjangoFilterBackend):
    """Uses the view's `filterset_class`; a view without one takes no filter at all."""

    def filter_queryset(self, request, queryset, view):
        filterset_class = getattr(view, "filterset_class", None)
        if filterset_class is None:
            refuse_unknown(request.query_params)
            return queryset
        return filtered_or_refused(filterset_class, request.query_params, queryset, request)
