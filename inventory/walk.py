"""Places as one walks past them: a room, then what is in it, in the order noted for each."""

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Case, IntegerField, Value, When

NO_PLACE = 1_000_000
OWN_JAR = NO_PLACE + 1


class Row(NamedTuple):
    pk: UUID
    parent: UUID | None
    order: int
    name: str


class Walk:
    """All places in the order of the walk, however deep one lies in another.

    >>> room, shelf, door = UUID(int=1), UUID(int=2), UUID(int=3)
    >>> walk = Walk([Row(door, None, 2, "Door"), Row(shelf, room, 1, "Shelf"), Row(room, None, 1, "Room")])
    >>> [(row.name, depth) for row, depth in walk.steps]
    [('Room', 0), ('Shelf', 1), ('Door', 0)]
    >>> walk.stretch(room), walk.words(shelf)
    ((0, 1), 'Room › Shelf')
    >>> walk.said("roo") == [room, shelf]
    True
    """

    def __init__(self, rows: Iterable[Row]) -> None:
        self._rows = {row.pk: row for row in rows}
        self._parts: dict[UUID | None, list[Row]] = {}
        for row in sorted(self._rows.values(), key=lambda row: (row.order, row.name, row.pk)):
            self._parts.setdefault(row.parent, []).append(row)

    @classmethod
    def now(cls) -> "Walk":
        """As the places stand now, in one query."""
        from inventory.models import Place

        return cls(map(Row._make, Place.objects.order_by().values_list("pk", "parent", "order", "name")))

    @cached_property
    def steps(self) -> list[tuple[Row, int]]:
        """Each place with its depth."""
        return list(self._below(None, 0))

    def _below(self, pk: UUID | None, depth: int) -> Iterator[tuple[Row, int]]:
        for row in self._parts.get(pk, []):
            yield row, depth
            yield from self._below(row.pk, depth + 1)

    def stretch(self, pk: UUID) -> tuple[int, int]:
        """From where to where in the walk one is in a place: the first and last step of it, itself included."""
        first = next(n for n, (row, _depth) in enumerate(self.steps) if row.pk == pk)
        last, depth = first, self.steps[first][1]
        while last + 1 < len(self.steps) and self.steps[last + 1][1] > depth:
            last += 1
        return first, last

    def words(self, pk: UUID) -> str:
        """The way to a place, from the outside in."""
        row = self._rows[pk]
        return f"{self.words(row.parent)} › {row.name}" if row.parent else row.name

    def said(self, word: str) -> list[UUID]:
        """The places in whose way the word occurs: with a board all its hooks, with a room all its boards."""
        return [row.pk for row, _depth in self.steps if word.casefold() in self.words(row.pk).casefold()]

    def rank(self, place: str, owner: str) -> Case:
        """The place in the walk as a column; what has no place comes after, own jars last."""
        past = [When(**{place: row.pk}, then=Value(n)) for n, (row, _depth) in enumerate(self.steps)]
        jar: Any = When(**{f"{owner}__isnull": False}, then=Value(OWN_JAR))
        return Case(*past, jar, default=Value(NO_PLACE), output_field=IntegerField())
