"""Reading a finding and setting it aside, with a reason that is kept with the tile."""

from collections.abc import Collection

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import may, require
from tiles.actions.tiles import require_edit
from tiles.models import Acknowledgement, Firing, Tile
from tiles.planning import FoundSentence, findings_for, with_answers

OF_THE_FIRING = ("target",)  # body and kiln: whoever loads answers them there


def waiting_in(tile: Tile) -> Firing | None:
    """The firing that the tile waits in: what is said of a tile is said for this one."""
    waiting = tile.tile_firings.filter(firing__state__in=Firing.TAKES_TILES)
    row = waiting.select_related("firing__kiln").first()
    return row.firing if row else None


@transaction.atomic
def acknowledge(
    *,
    by: Person,
    tile: Tile,
    key: str,
    reason: str,
    firing: Firing | None = None,
    version: int | None = None,
) -> Acknowledgement:
    """Answer one finding of a tile as it stands now (`key`: FoundSentence.key).

    A *stop* about a bucket is for technicians; a *stop* about body or kiln is answered where the tile is loaded.
    """
    require_edit(by, tile)
    if not reason.strip():
        raise Refused(
            {"reason": _("Say why this is all right here, so that whoever unloads the kiln knows.")}
        )
    touch(tile, version)
    said = with_answers(tile, findings_for(tile, firing=firing or waiting_in(tile)))
    found = next((finding for finding in said if finding.key == key), None)
    if found is None:
        raise Refused(_("This is not said of the tile any more."))
    if found.answer is not None:
        raise Refused(_("%(name)s has answered this already.") % {"name": found.answer.by.name})
    if found.level == "stop":
        if found.field in OF_THE_FIRING:
            raise Refused(_("This stops the tile. A technician can load it all the same, with a reason."))
        require(by, "tile.change_any")
    return _keep(by, tile, found, reason)


@transaction.atomic
def answer_layers(*, by: Person, tile: Tile, positions: Collection[int], reason: str) -> None:
    """Answer, with one reason, what is said of layers that were just put on, as far as this person may."""
    said = with_answers(tile, findings_for(tile, firing=waiting_in(tile)))
    for found in said:
        about = {f"layers.{position}" for position in positions}
        is_about_them = found.field.rpartition(".")[0] in about and found.level != "note"
        if is_about_them and not found.answer and (found.level != "stop" or may(by, "tile.change_any")):
            _keep(by, tile, found, reason)


def _keep(by: Person, tile: Tile, found: FoundSentence, reason: str) -> Acknowledgement:
    made = Acknowledgement(
        tile=tile,
        code=found.code,
        about=found.key,
        level=found.level,
        sentence=found.sentence,
        reason=reason.strip(),
        by=by,
    )
    check(made).save(force_insert=True)
    record_change(by=by, verb="acknowledged", obj=tile, after={"finding": found.sentence}, reason=made.reason)
    return made
