"""Writes about trials at home on a fired tile: begun, ended, photographed, taken back. A screen, never a proof."""

import uuid
from collections.abc import Iterable
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.actions.photos import kept, prepare_photo, stored
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, require
from tiles.actions.tiles import may_edit
from tiles.models import HomeTrial, HomeTrialPhoto, Tile

FIRED = (Tile.State.FIRED, Tile.State.RECORDED)
RESULTS = [result for result in HomeTrial.Result.values if result]


def begin_trial(
    *, by: Person, tile: Tile, before: Iterable[Any] = (), id: uuid.UUID | None = None, **fields: Any
) -> HomeTrial:
    """Begin one on a fired tile that the person sees. `before`: photos, as sent. `fields`: kind, done, begun_on."""
    require(by, "home_trial.note")
    prepared = [prepare_photo(file) for file in before]
    with kept(prepared) as keys, transaction.atomic():
        touch(tile)
        tile.refresh_from_db()
        if tile.state not in FIRED:
            raise Refused(_("A trial at home is of a fired tile, and this one is not. Fire it first."))
        happened("begun_on", fields.get("begun_on"))
        trial = HomeTrial(tile=tile, by=by, **({"id": id} if id else {}), **fields)
        check(trial).save(force_insert=True)
        for photo, key in zip(prepared, keys, strict=True):
            _add(by, trial, photo, key, HomeTrialPhoto.Stage.BEFORE)
        _tell(by, trial, "began a trial at home", after={"kind": str(trial), "done": trial.done})
    return trial


def end_trial(
    *,
    by: Person,
    trial: HomeTrial,
    result: str,
    seen: str = "",
    ended_on: Any = None,
    after: Iterable[Any] = (),
) -> HomeTrial:
    """Say what came of it; anybody who sees the tile may. What failed says what was seen."""
    require(by, "home_trial.note")
    prepared = [prepare_photo(file) for file in after]
    with kept(prepared) as keys, transaction.atomic():
        _locked(trial)
        if trial.result:
            raise Refused(_("This trial has ended already. Begin another one, or take this one back."))
        if result not in RESULTS:
            raise Refused({"result": _("Say what came of it: not yet failed, failed, or cannot say.")})
        if result == HomeTrial.Result.FAILED and not seen.strip():
            raise Refused({"seen": _("Say what was seen, such as: the glaze turned dull.")})
        happened("ended_on", ended_on)
        trial.ended_on = ended_on or timezone.localdate()
        if trial.ended_on < trial.begun_on:
            raise Refused({"ended_on": _("It cannot end before it began.")})
        trial.result, trial.seen = result, seen.strip()
        check(trial).save()
        for photo, key in zip(prepared, keys, strict=True):
            _add(by, trial, photo, key, HomeTrialPhoto.Stage.AFTER)
        said = {"kind": str(trial), "result": str(trial.get_result_display()), "seen": trial.seen}
        _tell(by, trial, "ended a trial at home", after=said)
    return trial


def add_trial_photo(
    *, by: Person, trial: HomeTrial, file: Any, stage: str, id: uuid.UUID | None = None
) -> HomeTrialPhoto:
    """One more photo, before or after."""
    require(by, "home_trial.note")
    prepared = prepare_photo(file)
    with kept([prepared]) as (key,), transaction.atomic():
        _locked(trial)
        photo = _add(by, trial, prepared, key, stage, id)
        _tell(by, trial, "added a photo", after={"kind": str(trial), "stage": str(photo.get_stage_display())})
    return photo


@transaction.atomic
def archive_trial_photo(*, by: Person, photo: HomeTrialPhoto, reason: str = "") -> HomeTrialPhoto:
    """Take a photo off the page: who sent it, the tile's maker, technicians. Its file stays."""
    require(by, "home_trial.note")
    _theirs(by, photo.trial, photo.by_id)
    _locked(photo.trial)
    photo.refresh_from_db()
    if photo.archived_at is None:
        photo.archived_at = timezone.now()
        photo.save(update_fields=["archived_at"])
        said = {"kind": str(photo.trial), "stage": str(photo.get_stage_display())}
        _tell(by, photo.trial, "archived a photo", before=said, reason=reason)
    return photo


@transaction.atomic
def take_trial_back(*, by: Person, trial: HomeTrial, reason: str) -> HomeTrial:
    """It was logged by mistake: who began it, the tile's maker, technicians, with a reason. It stays in the history."""
    require(by, "home_trial.note")
    _theirs(by, trial, trial.by_id)
    if not reason.strip():
        raise Refused({"reason": _("Say why it is taken back.")})
    _locked(trial)
    trial.taken_back_at = timezone.now()
    check(trial).save(update_fields=["taken_back_at"])
    said = {"kind": str(trial), "result": str(trial.get_result_display())}
    _tell(by, trial, "took back a trial at home", before=said, reason=reason.strip())
    return trial


def may_take_back(person: Person, trial: HomeTrial) -> bool:
    """Who began it, and whoever may change the tile."""
    return trial.by_id == person.pk or may_edit(person, trial.tile)


def _theirs(by: Person, trial: HomeTrial, owner: Any) -> None:
    if owner != by.pk and not may_edit(by, trial.tile):
        raise NotAllowed(
            _("This is somebody else's. They, the tile's maker or a technician can take it back.")
        )


def _locked(trial: HomeTrial) -> None:
    """The tile's row is locked first, then the trial is read anew."""
    touch(trial.tile)
    trial.refresh_from_db()
    if trial.taken_back_at:
        raise Refused(_("This trial was taken back. Begin another one."))


def _add(
    by: Person, trial: HomeTrial, prepared: Any, key: str, stage: str, id: uuid.UUID | None = None
) -> HomeTrialPhoto:
    photo = HomeTrialPhoto(
        trial=trial, stage=stage, by=by, **stored(prepared, key), **({"id": id} if id else {})
    )
    if trial.photos.filter(sha256=photo.sha256, archived_at=None).exists():
        raise Refused({"photo": _("This photo is here already.")})
    check(photo).save(force_insert=True)
    return photo


def _tell(by: Person, trial: HomeTrial, verb: str, **said: Any) -> None:
    """A trial is part of its tile's history."""
    record_change(by=by, verb=verb, obj=trial.tile, **said)
