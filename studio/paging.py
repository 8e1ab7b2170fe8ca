"""Cursor paging, the same for pages and the API."""

from django.db.models import QuerySet
from django.http import HttpRequest
from rest_framework.exceptions import NotFound
from rest_framework.pagination import CursorPagination
from rest_framework.request import Request

from studio.errors import Refused


class NewestFirst(CursorPagination):
    """Newest first; stable while rows are added. A queryset that is ordered on purpose sets `cursor_ordering`."""

    ordering: tuple[str, ...] = ("-created_at", "-id")
    page_size = 50
    max_page_size = 200
    page_size_query_param = "page_size"

    def get_ordering(self, request, queryset, view):
        return getattr(view, "cursor_ordering", None) or self.ordering


def page_of(
    request: HttpRequest, queryset: QuerySet, *, size: int = 60, ordering: tuple[str, ...] = ()
) -> tuple[list, str | None, str | None]:
    """(rows, previous address, next address) of a list page. Refused when the cursor is not one of ours."""
    paginator = NewestFirst()
    paginator.page_size = size
    if ordering:
        paginator.ordering = ordering
    try:
        rows = paginator.paginate_queryset(queryset, Request(request))
    except NotFound as error:
        raise Refused({"cursor": str(error.detail)}) from error
    return list(rows or []), paginator.get_previous_link(), paginator.get_next_link()
