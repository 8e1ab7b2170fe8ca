"""Writes about the table of causes and the trials of remedies."""

import uuid
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import change, check, create, record_change, touch
from studio.errors import Refused, VersionConflict
from studio.models import Person, Studio
from studio.roles import NotAllowed, may, require
from tiles.actions.numbers import reserve_numbers
from tiles.actions.tiles import change_tile
from tiles.calc.cause_table import read_table
from tiles.calc.causes import of_fault
from tiles.cause_sentences import problem_words
from tiles.causes import CODES, causes_in_force, faults_of, text_of, version_in_force
from tiles.models import CauseTable, RemedyTrial, Tile

MOST_SAID = 12  # sentences about one table; the rest shows when these are put right
LARGEST = 200_000  # letters
COUNTED = (RemedyTrial.Helped.YES, RemedyTrial.Helped.NO)


@transaction.atomic
def change_causes(
    *, by: Person, table: str, reason: str, id: uuid.UUID | None = None, version: int | None = None
) -> CauseTable:
    """A new table in force. The former ones stay, and each can be put back.

    `version` is that of the table which was changed (0: the standard one, before anybody changed it).
    """
    require(by, "cause.change")
    now = _in_force(version)
    if len(table) > LARGEST:
        raise Refused({"table": _("This is too long for a table of causes. Is it the right file?")})
    _causes, problems = read_table(table, CODES)
    if problems:
        said = [problem_words(problem) for problem in problems[:MOST_SAID]]
        if left := len(problems) - len(said):
            said.append(_("And %(n)s more like these.") % {"n": left})
        raise Refused({"table": said})
    if table == text_of(now):
        raise Refused({"table": _("This is the table that is in force. Change something in it first.")})
    kept = CauseTable(**_named(id), table=table, reason=reason.strip(), by=by)
    return create(by=by, obj=kept, fields=("reason",))


def _in_force(read: int | None) -> CauseTable | None:
    """The newest table, whose writers queue; VersionConflict where it is not the one that was `read`."""
    Studio.objects.select_for_update().first()
    now = version_in_force()
    if read is not None and now is not None and now.version != read:
        raise VersionConflict(now, yours=read)
    return now


@transaction.atomic
def restore_causes(*, by: Person, version: CauseTable | None, reason: str = "") -> CauseTable:
    """Put an older table back, or (None) the one that comes with the service, as a new version."""
    require(by, "cause.change")
    is_standard = version is None or version.is_standard
    now = _in_force(None)
    if (is_standard and (now is None or now.is_standard)) or (version is not None and now == version):
        raise Refused(_("This table is in force already."))
    if version is None or version.is_standard:
        said = _("the standard table again")
    else:
        said = _("as it was: %(table)s") % {"table": version.reason}
    table = "" if version is None else version.table
    kept = CauseTable(table=table, reason=(reason.strip() or said)[:200], by=by, is_standard=is_standard)
    # Its cells were read when it was sent, and an empty text is the fixtures' own.
    kept.full_clean(exclude=["table"])
    kept.save(force_insert=True)
    record_change(by=by, verb="put back", obj=kept, reason=reason)
    return kept


@transaction.atomic
def plan_remedy(
    *,
    by: Person,
    tile: Tile,
    fault: str,
    cause: str,
    change: str = "",
    reserve: bool = False,
    id: uuid.UUID | None = None,
) -> RemedyTrial:
    """The next trial against a fault of `tile`; `reserve` gives the new tile its number, made of the same clay."""
    require(by, "remedy.plan")
    if fault not in faults_of(tile):
        raise Refused(
            {"fault": _("Nobody has noted this fault on %(tile)s. Note it first.") % {"tile": tile}}
        )
    row = next((one for one in of_fault(causes_in_force(), fault) if one.code == cause), None)
    if row is None:
        raise Refused({"cause": _("The table of causes has no such cause for this fault.")})
    new = reserve_numbers(by=by, count=1, body=tile.body, form=tile.form)[0] if reserve else None
    if new is not None and tile.visibility == Tile.Visibility.MINE:
        # What is tried against the fault of a tile that others do not see is shown to nobody else either.
        new = change_tile(by=by, obj=new, values={"visibility": tile.visibility})
    trial = RemedyTrial(
        **_named(id),
        tile=tile,
        fault=fault,
        cause=cause,
        change=change.strip() or row.trial,
        new_tile=new,
        by=by,
    )
    return create(by=by, obj=trial, fields=("tile", "fault", "cause", "change", "new_tile"))


def may_tell(by: Person, trial: RemedyTrial) -> bool:
    """Who planned it, and whoever may change any tile."""
    return may(by, "tile.change_any") or (may(by, "remedy.plan") and trial.by_id == by.pk)


def _require_teller(by: Person, trial: RemedyTrial) -> None:
    require(by, "remedy.plan")
    if not may_tell(by, trial):
        raise NotAllowed(_("Who planned this trial, or a technician, can change it."))


@transaction.atomic
def change_remedy(
    *, by: Person, obj: RemedyTrial, values: dict[str, Any], version: int | None = None
) -> RemedyTrial:
    """What is changed, the tile on which it is tried, and whether it helped."""
    _require_teller(by, obj)
    if obj.dropped_at:
        raise Refused(_("This trial was dropped. Plan another."))
    new = values.get("new_tile", obj.new_tile)
    if "new_tile" in values and new is not None:
        if new.pk == obj.tile_id:
            raise Refused({"new_tile": _("Try it on another tile than the one with the fault.")})
        if new.visibility == Tile.Visibility.MINE and obj.tile.visibility != Tile.Visibility.MINE:
            raise Refused(
                {"new_tile": _("Others see this trial, but not that tile. Show it to the studio first.")}
            )
        if RemedyTrial.objects.filter(new_tile=new).exclude(pk=obj.pk).exists():
            raise Refused({"new_tile": _("Another trial is being made on this tile. Take a tile for each.")})
    helped = values.get("helped", obj.helped)
    if helped and new is None:
        raise Refused({"helped": _("Say first on which tile it was tried: its record is the evidence.")})
    if helped in COUNTED and new is not None and not new.outcomes.exists():
        said = _("Nobody has looked at %(tile)s since it was fired. Note first how it came out.")
        raise Refused({"helped": said % {"tile": new}})
    changed = change(by=by, obj=obj, values=values, version=version)
    if "helped" in values:
        changed.said_at = timezone.now() if helped else None
        changed.save(update_fields=["said_at"])
    return changed


@transaction.atomic
def drop_remedy(*, by: Person, obj: RemedyTrial, version: int | None = None, reason: str = "") -> RemedyTrial:
    """It will not be made; it counts no more. It stays in the history."""
    _require_teller(by, obj)
    touch(obj, version)
    obj.refresh_from_db()
    if obj.dropped_at:
        raise Refused(_("This trial was dropped already."))
    obj.dropped_at = timezone.now()
    check(obj).save(update_fields=["dropped_at"])
    record_change(by=by, verb="dropped", obj=obj, reason=reason)
    return obj


def _named(id: uuid.UUID | None) -> dict[str, Any]:
    return {"id": id} if id else {}
