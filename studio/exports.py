"""Tables for a spreadsheet."""

import csv
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from django.http import HttpResponse, StreamingHttpResponse
from django.utils import timezone, translation

# What a spreadsheet would take for a formula. https://owasp.org/www-community/attacks/CSV_Injection
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def guarded(cell: Any) -> str:
    """A cell that no spreadsheet reads as a formula.

    >>> guarded("=1+1"), guarded("-5"), guarded("6")
    ("'=1+1", "'-5", '6')
    """
    text = "" if cell is None else str(cell)
    return f"'{text}" if text.startswith(FORMULA) else text


def csv_lines(
    heading: Iterable[str], records: Iterable[Any], cells: Callable[[Any], list[Any]]
) -> Iterator[str]:
    """The lines of a table, the heading first, every cell guarded.

    Lines are sent after the request has been answered, so its language and time zone are kept here.
    """
    language, zone = translation.get_language(), timezone.get_current_timezone()
    writer = csv.writer(_Echo())
    yield writer.writerow(heading)
    for record in records:
        with translation.override(language), timezone.override(zone):
            row = [guarded(cell) for cell in cells(record)]
        yield writer.writerow(row)


def csv_answer(lines: Iterable[str], name: str) -> StreamingHttpResponse:
    """The lines as a file of that name."""
    answer = StreamingHttpResponse(lines, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


def csv_refused(problems: dict[str, list[str]]) -> HttpResponse:
    """What of the question could not be used, a line for each filter: no table of a half-understood search."""
    said = "\n".join(f"{field}: {' '.join(sentences)}" for field, sentences in problems.items())
    return HttpResponse(said + "\n", status=400, content_type="text/plain; charset=utf-8")


class _Echo:
    """A file that hands back what is written."""

    def write(self, line: str) -> str:
        return line
