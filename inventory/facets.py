"""What can be asked of the shelf, each answer with how many buckets it leaves under everything else that is asked."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Max, Min, Q, QuerySet
from django.utils.translation import gettext as _

from inventory.calc.cones import Cone
from inventory.filters import FOOD, LABEL, USE, WHOSE, BucketFilter
from inventory.models import Glaze, Place
from inventory.sentences import cone_words

IN_WORDS = ("q", "code")  # what is typed narrows the shelf, but has no answers to choose from
FEW = 3  # more would fill a phone before the first lid


@dataclass(frozen=True)
class Answer:
    """One choice: what is sent for it, its words, and how many buckets it leaves."""

    value: str
    words: str
    count: int
    is_chosen: bool


@dataclass(frozen=True)
class Facet:
    """One question: `shape` is 'tick' (yes or not asked), 'chips' or 'list'."""

    name: str
    label: str
    shape: str
    answers: list[Answer]

    @property
    def chosen(self) -> Answer | None:
        return next((answer for answer in self.answers if answer.is_chosen), None)


def facets(filterset: BucketFilter, buckets: QuerySet[Any]) -> list[Facet]:
    """Every question with its counted answers, of `buckets` read `for_the_shelf`; all counts in one query."""
    asked = {name: value for name, value in filterset.form.cleaned_data.items() if value not in (None, "")}
    for name in IN_WORDS:
        if name in asked:
            buckets = filterset.filters[name].filter(buckets, asked.pop(name))
    narrowing = {name: filterset.meaning(name, value) for name, value in asked.items()}
    narrowing.setdefault("archived", filterset.meaning("archived", False))
    questions = {name: list(answers) for name, answers in _questions(filterset, buckets)}
    counts = buckets.order_by().aggregate(
        **{
            f"{name}_{n}": Count(
                "pk",
                filter=_all(q for other, q in narrowing.items() if other != name)
                & filterset.meaning(name, value),
            )
            for name, answers in questions.items()
            for n, (value, _sent, _words) in enumerate(answers)
        }
    )
    return [
        _facet(
            filterset, name, answers, [counts[f"{name}_{n}"] for n in range(len(answers))], asked.get(name)
        )
        for name, answers in questions.items()
    ]


def _all(conditions: Iterator[Q]) -> Q:
    found = Q()
    for condition in conditions:
        found &= condition
    return found


def _facet(filterset: BucketFilter, name: str, answers: list, counts: list[int], chosen: Any) -> Facet:
    label = str(filterset.filters[name].label)
    found = [
        Answer(sent, words, count, value == chosen)
        for (value, sent, words), count in zip(answers, counts, strict=True)
    ]
    if len(answers) == 1 and answers[0][0] is True:
        return Facet(name, label, "tick", found)
    if name in ("place", "cone", "glaze"):
        # Long lists leave out what would lead nowhere.
        return Facet(name, label, "list", [answer for answer in found if answer.count or answer.is_chosen])
    return Facet(name, label, "chips" if len(found) <= FEW else "list", found)


def _questions(filterset: BucketFilter, buckets: QuerySet[Any]) -> Iterator[tuple[str, Iterator[tuple]]]:
    """(name, answers) in the order of the page; an answer is (value, what is sent, words)."""

    def words(choices: Any) -> Iterator[tuple]:
        return ((value, value, str(label)) for value, label in choices)

    yes = (True, "true")
    yield "use", words(USE)
    yield "flagged", iter([(*yes, _("flagged"))])
    yield "low", iter([(*yes, _("a quarter full or less"))])
    yield "stale", iter([(*yes, _("SG old or never read"))])
    yield "whose", words(WHOSE)
    yield "food", words(FOOD)
    yield "label", words(LABEL)
    yield "place", _places(filterset)
    yield "cone", _cones(buckets, filterset.form.cleaned_data.get("cone"))
    yield "kind", words(Glaze.Kind.choices)
    glazes = Glaze.objects.filter(fills__ended_at=None).distinct()
    yield "glaze", ((glaze, str(glaze.pk), glaze.name) for glaze in glazes)
    yield "archived", iter([(*yes, _("put away"))])


def _places(filterset: BucketFilter) -> Iterator[tuple]:
    for row, _depth in filterset.walk.steps:
        yield Place(pk=row.pk), str(row.pk), filterset.walk.words(row.pk)


def _cones(buckets: QuerySet[Any], chosen: Cone | None) -> Iterator[tuple]:
    """The whole cones to which anything on the shelf is fired, and the one that was asked for."""
    ends = buckets.order_by().aggregate(low=Min("cone_low"), high=Max("cone_high"))
    low, high = (getattr(end, "rank", end) for end in (ends["low"], ends["high"]))
    for cone in Cone.all():
        between = low is not None and low <= cone.rank <= high and not cone.is_half
        if between or cone == chosen:
            yield cone, cone.code, cone_words(cone)
