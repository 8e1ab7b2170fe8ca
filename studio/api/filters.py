"""DRF's door to the strict FilterSets."""

from django_filters.rest_framework import DjangoFilterBackend

from studio.errors import Refused
from studio.filtering import PAGING, filtered_or_refused


class StrictFilterBackend(DjangoFilterBackend):
    """Uses the view's `filterset_class`; a view without one takes no filter at all."""

    def filter_queryset(self, request, queryset, view):
        filterset_class = getattr(view, "filterset_class", None)
        if filterset_class is None:
            unknown = [name for name in request.query_params if name not in PAGING]
            if unknown:
                raise Refused({name: f"There is no filter {name}." for name in unknown})
            return queryset
        return filtered_or_refused(filterset_class, request.query_params, queryset, request)
