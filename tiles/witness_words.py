"""What the witness cones of a firing have to say of one another."""

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from inventory.sentences import cone_words
from tiles.calc.witness import WitnessReading, contradictions
from tiles.models import Firing


def contradiction_words(firing: Firing) -> list[str]:
    """Where two witness cones of one type cannot both be right, and what to do."""
    said = _(
        "%(position)s: %(cooler)s is bent less than %(hotter)s, which no firing does. One of them was read wrongly, or "
        "is another cone than it is taken for. Read them again."
    )
    by_type: dict[str, list[WitnessReading]] = {}
    for one in firing.witness_cones.all():
        reading = WitnessReading(one.position, one.cone, one.bend_degrees)
        by_type.setdefault(one.cone_type, []).append(reading)
    found = [found for readings in by_type.values() for found in contradictions(readings)]
    return [
        said
        % {
            "position": capfirst(position or _("position not noted")),
            "cooler": cone_words(cooler),
            "hotter": cone_words(hotter),
        }
        for position, cooler, hotter in found
    ]
