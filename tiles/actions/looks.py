"""Looking again weeks later: crazing may come slowly, and 'as it was' is worth knowing too."""

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
    """The newest look at the whole tile since it was last fired."""
    done = tile.tile_firings.filter(firing__unloaded_at__isnull=False).order_by("-firing__unloaded_at")
    last = done.values_list("firing", flat=True).first()
    looks = tile.outcomes.filter(firing=last, zone=Outcome.Zone.WHOLE).prefetch_related("faults")
    return looks.order_by("-looked_on", "-created_at").first()


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
        **{field: getattr(before, field) for field in SAME if before},
    )
