"""Taking a firing one step back: one wrong tap must not stand, and what followed from it goes too."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from studio.actions import check, record_change, touch
from studio.errors import Refused
from studio.models import Change, Person
from studio.roles import require
from tiles.actions.evidence import lock_tiles, refresh_cones
from tiles.actions.moving import CAME_OUT
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.tiles import earned_state
from tiles.models import Firing, Outcome, Tile, TileFiring

BACK_TO = {
    Firing.State.FIRING: Firing.State.LOADING,
    Firing.State.COOLING: Firing.State.FIRING,
    Firing.State.UNLOADED: Firing.State.COOLING,
    Firing.State.STOPPED: Firing.State.FIRING,
}


@dataclass(frozen=True, slots=True)
class StepBack:
    """Where a firing goes back to, the tiles that go back with it (each with its state then), and what forbids it."""

    state: str
    tiles: tuple[tuple[Tile, str], ...] = ()
    refusals: tuple[str, ...] = ()


def step_back_of(firing: Firing) -> StepBack | None:
    """What one step back would do; None where there is none. Nothing is written."""
    state = BACK_TO.get(Firing.State(firing.state))
    if state is None:
        return None
    inside = [*Tile.objects.filter(tile_firings__firing=firing).order_by("pk")]
    refusals = [*_looked_at(firing), *_gone_on(firing, inside)]
    return StepBack(state, tuple(_going_back(firing, inside)), tuple(refusals))


@transaction.atomic
def step_back(*, by: Person, firing: Firing, reason: str, version: int | None = None) -> Firing:
    """Take a firing back to the state before this one, with what came of it: a technician, who says why."""
    require(by, "firing.change")
    if not reason.strip():
        raise Refused({"reason": _("Say why it goes back, such as: tapped by mistake.")})
    touch(firing, version)
    firing.refresh_from_db()
    lock_tiles(firing)
    step = step_back_of(firing)
    if step is None:
        said = _("%(firing)s is %(state)s; there is no step to take back.")
        raise Refused(said % {"firing": firing, "state": firing.get_state_display()})
    if step.refusals:
        raise Refused({"state": [*step.refusals]})
    before, firing.state = firing.state, step.state
    if before in OUT_OF_THE_KILN:
        firing.unloaded_at = None
    if before == Firing.State.FIRING:
        firing.started_at = None
    check(firing).save()
    batch = uuid.uuid4()
    for tile, state in step.tiles:
        touch(tile)
        was = tile.state
        Tile.objects.filter(pk=tile.pk).update(state=state)
        record_change(
            by=by,
            verb="went back with its firing",
            obj=tile,
            before={"state": was, "firing": firing.number},
            after={"state": state},
            reason=reason.strip(),
            batch=batch,
        )
    refresh_cones(firing)
    record_change(
        by=by,
        verb="took a step back",
        obj=firing,
        before={"state": before},
        after={"state": step.state},
        reason=reason.strip(),
    )
    return firing


def _looked_at(firing: Firing) -> Iterable[str]:
    """A look says how a tile came out: then it did come out."""
    if firing.unloaded_at is None:
        return
    since = Q(firing=firing) | Q(firing=None, created_at__gte=firing.unloaded_at)
    looks = Outcome.objects.filter(since, tile__tile_firings__firing=firing).distinct().count()
    if looks:
        said = ngettext(
            "%(looks)s look at its tiles is recorded already, so it did come out of the kiln. It cannot go back.",
            "%(looks)s looks at its tiles are recorded already, so it did come out of the kiln. It cannot go back.",
            looks,
        )
        yield said % {"looks": looks}


def _gone_on(firing: Firing, inside: list[Tile]) -> Iterable[str]:
    """A tile is in one kiln at a time."""
    if firing.unloaded_at is None:
        return
    later = Firing.objects.filter(tile_firings__tile__in=inside).exclude(pk=firing.pk)
    waiting = Q(state__in=Firing.TAKES_TILES)
    gone = later.filter(waiting | Q(started_at__gte=firing.started_at)).distinct().order_by("number")
    if found := ", ".join(str(one) for one in gone):
        said = _(
            "Tiles of it are in %(later)s by now. Take them out there first; once fired, they cannot go back."
        )
        yield said % {"later": found}


def _going_back(firing: Firing, inside: list[Tile]) -> Iterable[tuple[Tile, str]]:
    """The tiles that only this unloading made fired or bisqued, with the state that they had."""
    if firing.state != Firing.State.UNLOADED:
        return
    made = Tile.State.BISQUED if firing.kind == Firing.Kind.BISQUE else Tile.State.FIRED
    changed = Change.objects.filter(
        verb=CAME_OUT, after__firing=firing.number, object_id__in=[t.pk for t in inside]
    )
    had = {change.object_id: change.before["state"] for change in changed.order_by("at")}
    elsewhere = TileFiring.objects.filter(
        tile__in=inside, firing__kind=Firing.Kind.BISQUE, firing__state=Firing.State.UNLOADED
    )
    bisqued = set(elsewhere.exclude(firing=firing).values_list("tile", flat=True))
    for tile in inside:
        if tile.state != made or (made == Tile.State.BISQUED and tile.pk in bisqued):
            continue
        bare = Tile.State.BLANK if made == Tile.State.BISQUED else Tile.State.BISQUED
        state = earned_state(tile, without=firing) or had.get(tile.pk, bare)
        if state != made:
            yield tile, state
