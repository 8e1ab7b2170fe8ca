"""Cursor paging, the same for pages and the API: every row once, while rows are added."""

import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.utils.translation import gettext as _
from rest_framework.pagination import CursorPagination
from rest_framework.request import Request
from rest_framework.utils.urls import remove_query_param, replace_query_param

from studio.errors import Refused


class NewestFirst(CursorPagination):
    """Newest first; stable while rows are added. A list that is ordered on purpose sets `cursor_ordering`.

    The cursor holds every column of the ordering, so that rows which share the first one (all the tiles of a
    cone, all rows of an import) are neither lost nor shown twice. No column may be null; the last is unique.
    """

    ordering: tuple[str, ...] = ("-created_at", "-id")
    page_size = 50
    max_page_size = 200
    page_size_query_param = "page_size"

    def get_ordering(self, request, queryset, view):
        return getattr(view, "cursor_ordering", None) or self.ordering

    def get_page_size(self, request):
        asked = request.query_params.get(self.page_size_query_param)
        if asked is None:
            return self.page_size
        if not (
            asked.isascii() and asked.isdigit() and len(asked) < 10 and 1 <= int(asked) <= self.max_page_size
        ):
            sentence = _("Ask for 1 to %(most)s rows at a time.") % {"most": self.max_page_size}
            raise Refused({"page_size": sentence})
        return int(asked)

    def paginate_queryset(self, queryset, request, view=None):
        self.base_url: str = request.build_absolute_uri()
        size, self.ordering = self.get_page_size(request), self.get_ordering(request, queryset, view)
        backwards, marks = self._read(request.query_params.get(self.cursor_query_param))
        steps = [_turned(step) for step in self.ordering] if backwards else list(self.ordering)
        rows = queryset.order_by(*steps)
        if marks:
            try:
                rows = rows.filter(_beyond(steps, marks))
            except (ValidationError, ValueError, TypeError, OverflowError) as error:
                raise self._refused() from error
        # Keys first: annotations of rows that are only sorted past need not be worked out.
        columns = [step.lstrip("-") for step in self.ordering]
        keys = list(rows.values_list(*columns, "pk")[: size + 1])
        more, keys = len(keys) > size, keys[:size]
        if backwards:
            keys.reverse()
        self._first: tuple | None = keys[0][:-1] if keys else None
        self._last: tuple | None = keys[-1][:-1] if keys else None
        self.has_previous = more if backwards else bool(marks)
        self.has_next = bool(marks) if backwards else more
        found = {row.pk: row for row in queryset.order_by().filter(pk__in=[key[-1] for key in keys])}
        return [found[key[-1]] for key in keys if key[-1] in found]

    def get_next_link(self):
        return self._link(self._last, backwards=False) if self.has_next else None

    def get_previous_link(self):
        return self._link(self._first, backwards=True) if self.has_previous else None

    def _link(self, marks: tuple | None, *, backwards: bool) -> str:
        if marks is None:
            return remove_query_param(self.base_url, self.cursor_query_param)
        plain = [mark.isoformat() if isinstance(mark, datetime) else str(mark) for mark in marks]
        cursor = urlsafe_b64encode(json.dumps([int(backwards), *plain]).encode()).decode()
        return replace_query_param(self.base_url, self.cursor_query_param, cursor)

    def _read(self, cursor: str | None) -> tuple[bool, list[str]]:
        if not cursor:
            return False, []
        try:
            backwards, *marks = json.loads(urlsafe_b64decode(cursor.encode("ascii")))
        except (ValueError, TypeError, RecursionError) as error:
            raise self._refused() from error
        if len(marks) != len(self.ordering) or not all(map(_is_text, marks)):
            raise self._refused()
        return backwards == 1, marks

    def _refused(self) -> Refused:
        return Refused({"cursor": _("This cursor is not one of ours. Begin with the first page.")})


def _turned(step: str) -> str:
    return step[1:] if step.startswith("-") else f"-{step}"


def _beyond(steps: list[str], marks: list[str]) -> Q:
    """Rows after `marks`: later in the first column, or alike in it and later in the next, and so on."""
    beyond, alike = Q(), dict[str, Any]()
    for step, mark in zip(steps, marks, strict=True):
        column = step.lstrip("-")
        beyond |= Q(**alike, **{f"{column}__{'lt' if step.startswith('-') else 'gt'}": mark})
        alike[column] = mark
    return beyond


def page_of(
    request: HttpRequest, queryset: QuerySet, *, size: int = 60, ordering: tuple[str, ...] = ()
) -> tuple[list, str | None, str | None]:
    """(rows, previous address, next address) of a list page. Refused when the cursor is not one of ours."""
    paginator = NewestFirst()
    paginator.page_size = size
    if ordering:
        paginator.ordering = ordering
    rows = paginator.paginate_queryset(queryset, Request(request))
    # Without the host: a proxy in front may have changed it.
    paginator.base_url = request.get_full_path()
    return rows, paginator.get_previous_link(), paginator.get_next_link()


def _is_text(mark: Any) -> bool:
    """Text that a database can be asked for: no NUL, and no half of a pair of surrogates."""
    return isinstance(mark, str) and "\0" not in mark and not any("\ud800" <= c <= "\udfff" for c in mark)
