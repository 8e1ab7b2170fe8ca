"""Where on a tile a fault is: kept as a plain word whatever language is spoken, or in somebody's own words."""

import re

from django.utils.translation import gettext_lazy as _

PLACES = {
    "lip": _("lip"),
    "upper part": _("upper part"),
    "overlap": _("overlap"),
    "lower part": _("lower part"),
    "foot": _("foot"),
    "inside": _("inside"),
}


def place_words(where: str) -> str:
    """The word of a place in the reader's language; what somebody wrote stands as it is."""
    return str(PLACES.get(where, where))


def speaks_of(where: str, place: str) -> bool:
    """Whether a fault's `where` names a place: as it is kept, or where a word begins so in what was written.

    >>> speaks_of("all along the lips", "lip"), speaks_of("in the slip", "lip")
    (True, False)
    """
    words = (place, str(PLACES[place]))
    return any(re.search(rf"\b{re.escape(word)}", where, re.IGNORECASE) for word in words)
