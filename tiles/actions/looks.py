"""Looking again weeks later: crazing may come slowly, and 'as it was' is worth knowing too."""

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.outcomes import record_outcome
from tiles.models import Outcome, OutcomeFault, Tile

SAME = ("surface", "opacity", "movement_mm", "colour", "verdict")


def look_to_repeat(tile: Tile) -> Outcome | None:
    """The newest look since the tile was last fired, one at the whole of it before one at a part."""
    done = tile.tile_firings.filter(firing__unloaded_at__isnull=False).order_by("-firing__unloaded_at")
    last = done.values_list("firing", flat=True).first()
    looks = tile.outcomes.filter(firing=last).select_related("combination", "by", "firing")
    newest = list(looks.prefetch_related("faults").order_by("-looked_on", "-created_at"))
    return next((look for look in newest if look.zone == Outcome.Zone.WHOLE), next(iter(newest), None))


@transaction.atomic
def look_again(*, by: Person, tile: Tile, crazing: list[str] | None = None) -> Outcome:
    """A later look. With `crazing`, where it is seen now ([''] for anywhere); without, it is as it was.

    What was seen before is seen still, so the newest look is said once more under today's date.
    """
    require(by, "tile.log")
    touch(tile)
    before = look_to_repeat(tile)
    if before is None and crazing is None:
        raise Refused(_("Nobody has looked at it yet, so say first how it came out."))
    seen = {(f.kind, f.where) for f in before.faults.all()} if before else set()
    seen |= {(OutcomeFault.Kind.CRAZING.value, where) for where in crazing or []}
    return record_outcome(
        by=by,
        tile=tile,
        faults=[{"kind": kind, "where": where} for kind, where in sorted(seen)],
        remark=_("Looked again: as it was.") if crazing is None else "",
        **_part_of(before, tile),
        **{field: getattr(before, field) for field in SAME if before},
    )


def _part_of(before: Outcome | None, tile: Tile) -> dict[str, Any]:
    """The part that was looked at, unless a correction of the layers has done away with it."""
    if before is None or not tile.zones.filter(combination=before.combination, kind=before.zone).exists():
        return {"zone": Outcome.Zone.WHOLE}
    return {"zone": before.zone, "combination": before.combination}
