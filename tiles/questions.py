"""What beginners ask most, from fixtures/questions.csv: a short answer, its source, and which evidence to show."""

import csv
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.utils.translation import gettext_lazy as _

from tiles.calc.stems import stems
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
# Where the table of causes says more than the answer.
CAUSES = {"thickened_bucket": "settling"}
# Where an answer could do harm, this stands beside it.
CAUTIONS = {
    "food": _(
        "Nothing here promises anything. Limits differ by country and kind of ware, a test is of the fired piece, and "
        "only a laboratory can measure it. Ask one, and ask what holds where you are."
    ),
    "firing": _(
        "A kiln burns, gives off fumes and carries current that can kill. Let whoever is trained for it run and open "
        "it, with the room aired, and look into it only through glass made for that. What the law and the kiln's "
        "maker ask comes before what is said here."
    ),
    "health": _(
        "Read the data sheet of the material, and ask whoever looks after the studio. What the law asks differs from "
        "place to place and comes before what is said here."
    ),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """One question with its answer. `also`: what else people call it; `evidence` is a kind and what of it
    ('fault:crazing'), `wall` a search."""

    code: str
    topic: str
    question: str
    also: str
    answer: str
    source: str
    evidence: str
    wall: str

    @property
    def source_words(self) -> Any:
        return self.source or _("common practice")

    @property
    def causes(self) -> str:
        """The fault of which the table of causes says more; '' where it is none's."""
        return CAUSES.get(self.code, "")

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
    """Those with every word that says something in question, other names, answer or topic; if none has all of
    them, those with the most; first those that ask it, then those that only answer it. All of them for no word.

    A word counts in every form of it: 'crawl' finds 'crawling'.
    """
    words = stems(text) - FILLERS
    if not words:
        return list(questions())
    counted = [(len(words & stems(f"{_asks(one)} {one.answer}")), one) for one in questions()]
    most = max(count for count, _one in counted)
    found = [one for count, one in counted if count == most] if most else []
    return sorted(found, key=lambda one: -len(words & stems(_asks(one))))


def _asks(one: Asked) -> str:
    return f"{one.question} {one.also} {TOPICS[one.topic]}"


# What a question is made of, whatever it is about.
FILLERS = stems(
    "a am an and are at be been but can could did do does for from get had has have how i if in is it its me my of "
    "on or our out should so some that the their them then there these this to was we were what when where which "
    "who why will with would you your may must happen happened glaze glazes pot pots"
)
