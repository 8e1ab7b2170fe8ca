"""Many photos of one unloading, sorted to their tiles by picking."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.actions.photos import kept, prepare_photo, stored
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, is_device, may, require
from tiles.actions.outcomes import OUT_OF_THE_KILN
from tiles.actions.photos import taken
from tiles.actions.stops import named
from tiles.models import Firing, LoosePhoto, Outcome, Photo, Tile


def require_loose(person: Person, loose: LoosePhoto) -> None:
    """Its sender sorts it, or who sees private tiles: it may show one."""
    require(person, "tile.log")
    is_own = loose.by_id == person.pk and not is_device(person)
    if not (is_own or may(person, "tile.see_private")):
        raise NotAllowed(_("This photo is somebody else's to sort. Its sender or a technician can do it."))


class AlreadyHere(Refused):
    """The firing has this photo, so sending it again does nothing."""

    def __init__(self) -> None:
        super().__init__({"photo": _("This photo is here already.")})


def add_loose_photo(*, by: Person, firing: Firing, file: Any, id: uuid.UUID | None = None) -> LoosePhoto:
    """Keep one photo of an unloading until somebody says which tile it shows. A photo that is here is refused."""
    require(by, "tile.log")
    if firing.state not in OUT_OF_THE_KILN:
        said = _("%(firing)s is %(state)s. Send the photos of its tiles when it is unloaded.")
        raise Refused({"firing": said % {"firing": firing, "state": firing.get_state_display()}})
    prepared = prepare_photo(file)
    if firing.loose_photos.filter(sha256=prepared.sha256, archived_at=None).exists():
        raise AlreadyHere
    with kept([prepared]) as (key,), transaction.atomic():
        touch(firing)
        loose = LoosePhoto(
            firing=firing,
            **stored(prepared, key),
            taken_at=taken(prepared),
            by=by,
            **({"id": id} if id else {}),
        )
        check(loose).save(force_insert=True)
        record_change(by=by, verb="added a photo", obj=firing, after={"photo": loose.pk})
    return loose


@dataclass
class Taken:
    """What became of many photos: how many are kept, how many were here already, and what is wrong with which."""

    kept: list[LoosePhoto] = field(default_factory=list)
    known: int = 0
    refused: list[tuple[str, str]] = field(default_factory=list)


def add_loose_photos(*, by: Person, firing: Firing, files: Iterable[Any]) -> Taken:
    """Each for itself: a damaged one does not cost the others, and one that is here already does nothing."""
    done = Taken()
    for file in files:
        try:
            done.kept.append(add_loose_photo(by=by, firing=firing, file=file))
        except AlreadyHere:
            done.known += 1
        except Refused as refused:
            done.refused.append((getattr(file, "name", "") or "", str(refused)))
    return done


@transaction.atomic
def pick_photo(*, by: Person, loose: LoosePhoto, tile: Tile, outcome: Outcome | None = None) -> Photo:
    """Say which tile a loose photo shows. Its files stay where they are; of two who pick it at once one is told."""
    require_loose(by, loose)
    touch(loose.firing)
    loose.refresh_from_db()
    _is_unsorted(loose)
    if not loose.firing.tile_firings.filter(tile=tile).exists():
        raise Refused({"tile": _("%(tile)s was not in %(firing)s.") % {"tile": tile, "firing": loose.firing}})
    if outcome is not None and outcome.tile_id != tile.pk:
        raise Refused({"outcome": _("This look was at another tile.")})
    touch(tile)
    # One that was picked before and taken back keeps its record, under the tile that it really shows.
    photo = loose.photo or Photo(
        **stored(loose, loose.key),
        taken_at=loose.taken_at,
        by=loose.by,
    )
    photo.tile, photo.outcome, photo.archived_at = tile, outcome, None
    photo.stage = Photo.Stage.FIRED
    check(photo).save()
    loose.photo = photo
    loose.save(update_fields=["photo"])
    record_change(by=by, verb="added a photo", obj=tile, after={"photo": photo.pk, "from": str(loose.firing)})
    return photo


@transaction.atomic
def unpick_photo(*, by: Person, loose: LoosePhoto) -> LoosePhoto:
    """Take back a pick: the photo goes off the tile's page and waits to be sorted again."""
    require_loose(by, loose)
    touch(loose.firing)
    loose.refresh_from_db()
    if loose.photo is None or loose.photo.archived_at:
        raise Refused(_("This photo is on no tile, so there is nothing to take back."))
    touch(loose.photo.tile)
    loose.photo.archived_at = timezone.now()
    loose.photo.save(update_fields=["archived_at"])
    before = {"photo": loose.photo.pk}
    record_change(by=by, verb="archived a photo", obj=loose.photo.tile, before=before)
    return loose


@transaction.atomic
def drop_loose_photo(*, by: Person, loose: LoosePhoto) -> LoosePhoto:
    """Leave a photo unsorted for good. Its files stay."""
    require_loose(by, loose)
    touch(loose.firing)
    loose.refresh_from_db()
    _is_unsorted(loose)
    loose.archived_at = timezone.now()
    loose.save(update_fields=["archived_at"])
    record_change(by=by, verb="archived a photo", obj=loose.firing, before={"photo": loose.pk})
    return loose


def _is_unsorted(loose: LoosePhoto) -> None:
    if loose.archived_at:
        raise Refused(_("This photo was dropped already."))
    if loose.photo is not None and loose.photo.archived_at is None:
        # Its sender need not see the tile to which a technician has sorted it.
        raise Refused(
            _("This photo is sorted already: it is on %(tile)s.") % {"tile": named(loose.photo.tile)}
        )
