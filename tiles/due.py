"""What at the kiln and on the wall needs somebody; a person's own tiles first."""

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from django.db.models import Exists, OuterRef, Q
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l
from django.utils.translation import ngettext

from inventory.sentences import age_words
from studio.registry import Due, DueGroup
from studio.roles import is_device, may
from tiles.cards import card
from tiles.cone_drawings import bent_cone
from tiles.due_in_hand import in_hand_of, unsorted_of
from tiles.models import Firing, Tile, WitnessCone
from tiles.queries_looks import MOST_DUE_FIRST, is_others

TILE, CONE = "tiles/_due_tile.html", "tiles/_due_cone.html"
# A witness cone that nobody has read for so long is not found any more.
CONES_ARE_KEPT = timedelta(weeks=4)


def due_at_the_wall(person: Any, most: int) -> Iterable[DueGroup]:
    if may(person, "tile.log") and not is_device(person):
        yield in_hand_of(person, most)
        yield unsorted_of(person, most)
    yield _waiting(person, most)
    yield _looks(person, most)
    if may(person, "firing.change"):
        yield _cones_to_read(most)


def _waiting(person: Any, most: int) -> DueGroup:
    """Fired, and nobody has said how they came out."""
    rows: Any = Tile.objects.visible_to(person).with_waiting().filter(is_waiting=True)
    hung = rows.for_the_wall().annotate(is_others=is_others(person))
    hung = hung.order_by("is_others", "-last_number", "created_at")
    items = [
        _tile(t, person, "unload-tile", [t.last_number, t.number], _("firing %(n)s") % {"n": t.last_number})
        for t in hung[:most]
    ]
    return DueGroup(
        "waiting", 30, _l("Waiting for a result"), _l("say how it came out"), TILE, rows.count(), items
    )


def _looks(person: Any, most: int) -> DueGroup:
    """Weeks after the kiln. What nobody has looked at yet waits for its first look and is named there."""
    rows: Any = Tile.objects.visible_to(person).with_waiting().filter(is_waiting=False)
    rows = rows.look_is_due(person, timezone.localdate())
    items = [
        _tile(tile, person, "look-again", [tile.number], _weeks(tile.weeks))
        for tile in rows.for_the_wall().order_by(*MOST_DUE_FIRST)[:most]
    ]
    return DueGroup("looks", 40, _l("Look again"), _l("is it crazed?"), TILE, rows.count(), items)


def _weeks(weeks: int) -> str:
    return ngettext("after %(n)s week", "after %(n)s weeks", weeks) % {"n": weeks}


def _tile(tile: Any, person: Any, page: str, args: list[Any], words: str) -> Due:
    return Due(
        kind="tiles.tile",
        id=tile.pk,
        name=tile.number,
        words=words,
        url=reverse(f"tiles:{page}", args=args),
        is_mine=not is_device(person) and tile.maker_id == person.pk,
        values={"card": card(tile)},
    )


def _cones_to_read(most: int) -> DueGroup:
    """Out of the kiln not long ago, and no witness cone is read. A bisque firing counts only where cones were set."""
    cones = WitnessCone.objects.filter(firing=OuterRef("pk"))
    since = timezone.now() - CONES_ARE_KEPT
    rows = Firing.objects.filter(state=Firing.State.UNLOADED, unloaded_at__gte=since)
    rows = rows.filter(Exists(cones) | ~Q(kind=Firing.Kind.BISQUE))
    rows = rows.exclude(Exists(cones.filter(bend_degrees__isnull=False)))
    items = [
        _firing(firing, "firing-witness", 60, age_words(firing.unloaded_at))
        for firing in rows.select_related("kiln").order_by("unloaded_at", "number")[:most]
        if firing.unloaded_at
    ]
    return DueGroup("cones", 60, _l("Cones to be read"), _l("read them"), CONE, rows.count(), items)


def _firing(firing: Firing, page: str, bend: int, words: str) -> Due:
    return Due(
        kind="tiles.firing",
        id=firing.pk,
        name=str(firing),
        words=words,
        url=reverse(f"tiles:{page}", args=[firing.number]),
        values={"cone": bent_cone(bend)},
    )
