"""Where on a tile a fault is: kept as a plain word whatever language is spoken, or in somebody's own words."""

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
    """Whether a fault's `where` names a place: as it is kept, or somewhere in what was written."""
    return any(word in where.lower() for word in (place, str(PLACES[place]).lower()))
