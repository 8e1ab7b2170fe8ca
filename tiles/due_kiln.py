"""What at the kilns needs somebody: when one is expected to have cooled, what is to be unloaded, worn parts."""

from collections.abc import Iterable
from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from studio.registry import Due, DueGroup
from studio.roles import may
from tiles.cone_drawings import bent_cone
from tiles.cooling_now import CoolingNow, cooling_now
from tiles.cooling_words import NOT_LEAVE, cooling_words
from tiles.kiln_sentences import firings_words
from tiles.models import Firing, Kiln
from tiles.wear import wear_of
from tiles.wear_words import part_words

CONE, COOLING = "tiles/_due_cone.html", "tiles/_due_cooling.html"


def due_at_the_kilns(person: Any, most: int) -> Iterable[DueGroup]:
    awaited = [one for one in cooling_now() if one.is_awaited(timezone.now())]
    yield _cooling(awaited, most)
    if may(person, "firing.change"):
        yield _to_unload(awaited, most)
    if may(person, "kiln.change"):
        yield _worn(most)


def _cooling(awaited: list[CoolingNow], most: int) -> DueGroup:
    """The forecast for each, or why there is none. The words say themselves that they are not leave to open."""
    items = [
        Due(
            kind="tiles.firing",
            id=one.firing.pk,
            name=f"{one.firing}, {one.firing.kiln}",
            words=cooling_words(one) if one.trouble else f"{cooling_words(one)}; {NOT_LEAVE}",
            url=reverse("tiles:firing", args=[one.firing.number]),
        )
        for one in awaited[:most]
    ]
    return DueGroup("cooling", 45, _l("Cooling"), _l("leave it shut"), COOLING, len(awaited), items)


def _to_unload(awaited: list[CoolingNow], most: int) -> DueGroup:
    """Cooling as somebody wrote down, and no log says that it is still hot."""
    rows = Firing.objects.filter(state=Firing.State.COOLING)
    rows = rows.exclude(pk__in=[one.firing.pk for one in awaited])
    items = [
        Due(
            kind="tiles.firing",
            id=firing.pk,
            name=str(firing),
            words=firing.kiln.name,
            url=reverse("tiles:firing", args=[firing.number]),
            values={"cone": bent_cone(0)},
        )
        for firing in rows.select_related("kiln").order_by("started_at", "number")[:most]
    ]
    act = _l("unload it once you found it cool yourself")
    return DueGroup("unload", 50, _l("To be unloaded"), act, CONE, rows.count(), items)


def _worn(most: int) -> DueGroup:
    """Elements and thermocouples that have seen the number of firings at which the studio wants to be reminded."""
    worn = [wear for wear in wear_of(Kiln.objects.filter(archived_at=None)) if wear.is_due]
    items = [
        Due(
            kind="tiles.kiln",
            id=wear.kiln.pk,
            name=str(wear.kiln),
            words=_("%(part)s: %(firings)s, reminder at %(last)s")
            % {"part": part_words(wear.part), "firings": firings_words(wear.firings), "last": wear.last},
            url=reverse("tiles:kiln", args=[wear.kiln.pk]),
            values={"cone": bent_cone(90)},
        )
        for wear in worn[:most]
    ]
    return DueGroup("worn", 70, _l("Worn parts"), _l("measure or change them"), CONE, len(worn), items)
