"""Reading a finding and setting it aside, with a reason that is kept with the tile."""

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from tiles.actions.tiles import require_edit
from tiles.models import Acknowledgement, Firing, Tile
from tiles.planning import findings_for


@transaction.atomic
def acknowledge(
    *, by: Person, tile: Tile, code: str, about: str = "", reason: str, firing: Firing | None = None
) -> Acknowledgement:
    """Answer one finding of a tile as it stands now. A *stop* needs an override in the load."""
    require_edit(by, tile)
    if not reason.strip():
        raise Refused(
            {"reason": _("Say why this is all right here, so that whoever unloads the kiln knows.")}
        )
    found = [
        f for f in findings_for(tile, firing=firing) if f.code == code and (not about or f.field == about)
    ]
    if not found:
        raise Refused(_("This is not said of the tile any more."))
    if found[0].level == "stop":
        raise Refused(
            _("This stops the tile; it cannot be set aside here. A technician can load it with a reason.")
        )
    touch(tile)
    made = Acknowledgement(
        tile=tile,
        code=code,
        about=found[0].field,
        level=found[0].level,
        sentence=found[0].sentence,
        reason=reason.strip(),
        by=by,
    )
    check(made).save(force_insert=True)
    record_change(
        by=by, verb="acknowledged", obj=tile, after={"finding": found[0].sentence}, reason=made.reason
    )
    return made
