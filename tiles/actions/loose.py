"""Many photos of one unloading, sorted to their tiles by picking."""

from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import check, record_change, touch
from studio.actions.photos import kept, prepare_photo
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.photos import taken
from tiles.models import Firing, LoosePhoto, Outcome, Photo, Tile


def add_loose_photo(*, by: Person, firing: Firing, file: Any) -> LoosePhoto:
    """Keep one photo of an unloading until somebody says which tile it shows."""
    require(by, "tile.log")
    prepared = prepare_photo(file)
    if firing.loose_photos.filter(sha256=prepared.sha256, archived_at=None).exists():
        raise Refused({"photo": _("This photo is here already.")})
    with kept([prepared]) as (key,), transaction.atomic():
        touch(firing)
        loose = LoosePhoto(
            firing=firing,
            key=key,
            kind=prepared.kind,
            width=prepared.width,
            height=prepared.height,
            sha256=prepared.sha256,
            taken_at=taken(prepared),
            by=by,
        )
        check(loose).save(force_insert=True)
        record_change(by=by, verb="added a photo", obj=firing, after={"photo": loose.pk})
    return loose


@transaction.atomic
def pick_photo(*, by: Person, loose: LoosePhoto, tile: Tile, outcome: Outcome | None = None) -> Photo:
    """Say which tile a loose photo shows. Its files stay where they are; of two who pick it at once one is told."""
    require(by, "tile.log")
    touch(loose.firing)
    loose.refresh_from_db()
    if loose.photo_id or loose.archived_at:
        raise Refused(_("This photo is sorted already."))
    if not loose.firing.tile_firings.filter(tile=tile).exists():
        raise Refused({"tile": _("%(tile)s was not in %(firing)s.") % {"tile": tile, "firing": loose.firing}})
    touch(tile)
    photo = Photo(
        tile=tile,
        outcome=outcome,
        key=loose.key,
        kind=loose.kind,
        width=loose.width,
        height=loose.height,
        sha256=loose.sha256,
        taken_at=loose.taken_at,
        by=loose.by,
    )
    check(photo).save(force_insert=True)
    loose.photo = photo
    loose.save(update_fields=["photo"])
    record_change(by=by, verb="added a photo", obj=tile, after={"photo": photo.pk, "from": str(loose.firing)})
    return photo


@transaction.atomic
def drop_loose_photo(*, by: Person, loose: LoosePhoto) -> LoosePhoto:
    """Leave a photo unsorted for good. Its files stay."""
    require(by, "tile.log")
    touch(loose.firing)
    loose.refresh_from_db()
    if loose.photo_id:
        raise Refused(_("This photo is sorted already."))
    loose.archived_at = loose.archived_at or timezone.now()
    loose.save(update_fields=["archived_at"])
    record_change(by=by, verb="archived a photo", obj=loose.firing, before={"photo": loose.pk})
    return loose
