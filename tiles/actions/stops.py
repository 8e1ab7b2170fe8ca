"""What stops a load: a clay body or a kiln outside the cone of the firing, until a technician says why not."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.calc.findings import Finding, firing_findings
from tiles.models import ClayBody, Firing, Piece, Tile, TileFiring
from tiles.sentences import sentence


@dataclass(frozen=True, slots=True)
class Stopped:
    """One row of a load that is outside the cone, with the sentences that say so; `row` None is the empty kiln."""

    what: str
    sentences: tuple[str, ...]
    row: TileFiring | Piece | None = None

    @property
    def reason(self) -> str:
        """Why it may go in all the same; empty while nobody has said so."""
        return self.row.override_reason if self.row else ""


def findings_for_body(firing: Firing, body: ClayBody | None) -> tuple[Finding, ...]:
    """Body and kiln outside the firing's cone, checked before any glaze."""
    return firing_findings(
        target=firing.target_cone,
        kind=firing.kind,
        kiln_high=firing.kiln.highest_cone,
        body_low=body.cone_low if body else None,
        body_high=body.cone_high if body else None,
        body_bisque=body.bisque_cone if body else None,
    )


def stops_for_body(firing: Firing, body: ClayBody | None) -> tuple[str, ...]:
    return tuple(sentence(f) for f in findings_for_body(firing, body) if f.level == "stop")


def named(tile: Tile) -> str:
    """Everybody reads the history of a firing: there a private tile has no number."""
    return _("a private tile") if tile.visibility == Tile.Visibility.MINE else str(tile)


def stopped_rows(firing: Firing) -> list[Stopped]:
    """What is in the kiln outside the cone, as bodies and kiln are now: they may have been changed since it went in."""
    tiles = firing.tile_firings.select_related("tile__body").order_by("tile__number")
    return stopped_in(firing, tiles, firing.pieces.filter(taken_out_at=None).select_related("body"))


def stopped_in(firing: Firing, tiles: Iterable[TileFiring], pieces: Iterable[Piece]) -> list[Stopped]:
    """The same of rows that are read already."""
    rows: list[tuple[str, ClayBody | None, Any]] = [(str(row.tile), row.tile.body, row) for row in tiles]
    rows += [(str(piece), piece.body, piece) for piece in pieces]
    found = [Stopped(what, stops, row) for what, body, row in rows if (stops := stops_for_body(firing, body))]
    if not found and (stops := stops_for_body(firing, None)):
        found = [Stopped(str(firing.kiln), stops)]
    return found


def open_stops(firing: Firing) -> list[Stopped]:
    """Those that nobody has given a reason for."""
    return [stopped for stopped in stopped_rows(firing) if not stopped.reason]


@transaction.atomic
def override_stop(
    *,
    by: Person,
    firing: Firing,
    tile: Tile | None = None,
    piece: Piece | None = None,
    reason: str,
    version: int | None = None,
) -> None:
    """Say why a tile or a piece stays in a firing that its body or the kiln is outside of: a technician."""
    require(by, "firing.change")
    touch(firing, version)
    firing.refresh_from_db()
    if not firing.takes_tiles:
        said = _("%(firing)s is %(state)s already; what was in it stays as it was written.")
        raise Refused(said % {"firing": firing, "state": firing.get_state_display()})
    reason = reason.strip()
    if not reason or len(reason) > 200:
        raise Refused({"reason": _("Say why it may go in all the same, in up to 200 letters.")})
    row: TileFiring | Piece | None = None
    if tile is not None:
        row = firing.tile_firings.select_related("tile__body").filter(tile=tile).first()
    elif piece is not None:
        row = firing.pieces.select_related("body").filter(pk=piece.pk, taken_out_at=None).first()
    if row is None:
        raise Refused({"tile" if tile else "piece": _("That is not in %(firing)s.") % {"firing": firing}})
    body = row.tile.body if isinstance(row, TileFiring) else row.body
    if not stops_for_body(firing, body):
        raise Refused({"tile" if tile else "piece": _("Nothing stops it. It needs no reason.")})
    before, row.override_reason = row.override_reason, reason
    row.save(update_fields=["override_reason"])
    what = named(row.tile) if isinstance(row, TileFiring) else row.words
    record_change(
        by=by,
        verb="let it stay",
        obj=firing,
        before={"what": what, "reason": before},
        after={"what": what, "reason": reason},
        reason=reason,
    )
