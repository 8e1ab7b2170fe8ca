"""What beginners ask most, from fixtures/questions.csv: a short answer, its source, and which evidence to show."""

import csv
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext_lazy as _

from tiles.fixture_words import fixture_text

# The first answer stands open, so that the page begins with tiles to look at.
TOPICS = {
    "faults": _("When something went wrong"),
    "making": _("Making tiles"),
    "applying": _("Putting glaze on"),
    "layering": _("One glaze over another"),
    "firing": _("Firing"),
    "food": _("Food"),
    "health": _("Health"),
    "storing": _("Buckets"),
}
# Where an answer could do harm, this stands beside it.
CAUTIONS = {
    "food": _(
        "Nothing here promises anything. Limits differ by country and kind of ware, a test is of the fired piece, and "
        "only a laboratory can measure it. Ask one, and ask what holds where you are."
    ),
    "health": _(
        "Read the data sheet of the material, and ask whoever looks after the studio. What the law asks differs from "
        "place to place and comes before what is said here."
    ),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """One question with its answer. `evidence` is a kind and what of it ('fault:crazing'), `wall` a search."""

    code: str
    topic: str
    question: str
    answer: str
    source: str
    evidence: str
    wall: str

    @property
    def source_words(self) -> Any:
        return self.source or _("common practice")

    @property
    def caution(self) -> Any:
        return CAUTIONS.get(self.topic, "")


def questions() -> tuple[Asked, ...]:
    """All of them, in the reader's language where there is a file in it."""
    return _parsed(fixture_text("questions"))


@lru_cache(maxsize=8)
def _parsed(text: str) -> tuple[Asked, ...]:
    return tuple(Asked(**row) for row in csv.DictReader(text.splitlines()))


def matching(text: str) -> list[Asked]:
    """Those with every word somewhere in question, answer or topic; all of them for no word."""
    words = text.casefold().split()
    return [
        one
        for one in questions()
        if all(word in f"{one.question} {one.answer} {TOPICS[one.topic]}".casefold() for word in words)
    ]
