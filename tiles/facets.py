"""How many tiles each answer would leave if one chose it now, from the meanings that also filter (meanings.py)."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Q, QuerySet
from django.utils.translation import gettext as _

from inventory.calc.cones import Cone
from inventory.walk import Walk
from tiles.filters_wall import WallFilter
from tiles.meanings import TOLD, looked_at

COUNTED = 1000  # beyond a thousand nobody needs the number
ANY_OF = ("surface", "opacity", "movement", "verdict", "with_fault", "layers", "state")
ONE_OF = ("glaze", "glaze_top", "glaze_under", "combination", "body", "atmosphere", "kiln", "maker")
CONDITIONS = ("label", "standing", "use_then", "use_now")
CONES = ("cone_min", "cone_max")


@dataclass(frozen=True, slots=True)
class Answer:
    """One choice: what is sent for it, its words, and how many tiles it would leave."""

    value: str
    words: str
    count: int
    is_chosen: bool

    @property
    def count_words(self) -> str:
        return count_words(self.count)


@dataclass(frozen=True, slots=True)
class Facet:
    """One question: `shape` is 'chips', 'select' or 'cones' (suggestions beside a field)."""

    name: str
    shape: str
    answers: list[Answer]


def count_words(count: int) -> str:
    return str(count) if count <= COUNTED else _("over 1 000")


def facets(filterset: WallFilter, tiles: QuerySet[Any]) -> list[Facet]:
    """Every question with counted answers, of `tiles` read `for_the_wall`; a few queries, however many tiles."""
    counted = _Counted(filterset, tiles)
    found = [_cones(counted, name) for name in CONES]
    for name in (*ANY_OF, "without_fault", *ONE_OF, "place", *CONDITIONS):
        counts = counted.of(name)
        shape = "select" if name in (*ONE_OF, "place", *CONDITIONS) else "chips"
        found.append(Facet(name, shape, _answers(filterset, name, counts)))
    return found


class _Counted:
    """Counts by answer under everything else that is asked."""

    def __init__(self, filterset: WallFilter, tiles: QuerySet[Any]) -> None:
        self.filterset, self.tiles = filterset, tiles.order_by()
        given = filterset.form.cleaned_data
        self.asked = {
            name: value for name, value in given.items() if value not in (None, "", []) and name != "hang"
        }

    def others(self, name: str) -> QuerySet[Any]:
        """The tiles under every other question."""
        rows = self.tiles
        for other, value in self.asked.items():
            if other != name:
                rows = rows.filter(self.filterset.meaning(other, value))
        return rows

    def of(self, name: str) -> dict[Any, int]:
        if name in ANY_OF:
            return self._any_of(name)
        if name == "without_fault":
            return self._free_of()
        if name == "place":
            return self._in_places()
        if name in CONDITIONS:
            return self._conditions(name)
        return TOLD[name].counts(self.others(name))

    def _any_of(self, name: str) -> dict[Any, int]:
        """A second tick adds to the first: what it would leave is both."""
        rows, chosen = self.others(name), self.asked.get(name, [])
        if not chosen:
            return TOLD[name].counts(rows)
        fits = TOLD[name].fits(chosen)
        now = rows.filter(fits).count()
        more = TOLD[name].counts(rows.filter(~fits))
        values = [value for value, _words in self.filterset.form.fields[name].choices]
        return {value: now + (0 if value in chosen else more.get(value, 0)) for value in values}

    def _free_of(self) -> dict[Any, int]:
        """A second tick takes away from the first."""
        chosen = self.asked.get("without_fault", [])
        rows = self.others("without_fault").filter(looked_at())
        if chosen:
            rows = rows.filter(self.filterset.meaning("without_fault", chosen))
        now, having = rows.count(), TOLD["with_fault"].counts(rows)
        values = [value for value, _words in self.filterset.form.fields["without_fault"].choices]
        return {value: now - having.get(value, 0) for value in values}

    def _in_places(self) -> dict[Any, int]:
        """A place counts with all that is in it."""
        here, walk = TOLD["place"].counts(self.others("place")), Walk.now()
        counts = {}
        for row, _depth in walk.steps:
            first, last = walk.stretch(row.pk)
            counts[row.pk] = sum(here.get(inner.pk, 0) for inner, _d in walk.steps[first : last + 1])
        return counts

    def _conditions(self, name: str) -> dict[Any, int]:
        values = [value for value, _words in self.filterset.filters[name].extra["choices"]]
        counts: dict[str, Any] = {
            f"n_{value}": Count("pk", filter=Q(self.filterset.meaning(name, value))) for value in values
        }
        found = self.others(name).aggregate(**counts)
        return {value: found[f"n_{value}"] for value in values}


def _cones(counted: _Counted, name: str) -> Facet:
    """The cones of the tiles, each with how many it would leave as this end of the range."""
    by_cone = {cone: n for cone, n in TOLD["cone"].counts(counted.others(name)).items() if cone is not None}
    is_low, answers = name == "cone_min", []
    for cone in sorted(by_cone, key=lambda cone: cone.rank):
        count = sum(n for other, n in by_cone.items() if _reaches(other, cone, is_low=is_low))
        answers.append(Answer(cone.code, cone.label, count, counted.asked.get(name) == cone))
    return Facet(name, "cones", answers)


def _reaches(cone: Cone, end: Cone, *, is_low: bool) -> bool:
    return cone >= end if is_low else cone <= end


def _answers(filterset: WallFilter, name: str, counts: dict[Any, int]) -> list[Answer]:
    field: Any = filterset.form.fields[name]
    asked = filterset.form.cleaned_data.get(name)
    chosen = {str(getattr(one, "pk", one)) for one in (asked if isinstance(asked, list) else [asked]) if one}
    by_value = {str(value): count for value, count in counts.items()}
    return [
        Answer(str(value), str(words), by_value.get(str(value), 0), str(value) in chosen)
        for value, words in field.choices
        if str(value)
    ]
