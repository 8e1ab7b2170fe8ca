"""A list page: the one filter, a page of rows, and what could not be understood."""

from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest

from studio.errors import Refused
from studio.filtering import StrictFilterSet, filtered
from studio.paging import page_of


def listed(
    request: HttpRequest,
    filterset_class: type[StrictFilterSet],
    queryset: QuerySet,
    *,
    ordering: tuple[str, ...] = (),
    data: Any = None,
) -> dict[str, Any]:
    """Context: `filter`, `problems`, `rows`, `asked` (something was filtered for), `previous_url`, `next_url`."""
    data = request.GET if data is None else data
    filterset, rows, problems = filtered(filterset_class, data, queryset, request)
    try:
        page, previous_url, next_url = page_of(request, rows, ordering=ordering)
    except Refused as refused:
        page, previous_url, next_url, problems = [], None, None, refused.problems
    return {
        "filter": filterset,
        "problems": [sentence for sentences in problems.values() for sentence in sentences],
        "rows": page,
        "asked": any(request.GET.get(name) for name in filterset.form.fields),
        "previous_url": previous_url,
        "next_url": next_url,
    }
