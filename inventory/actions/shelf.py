"""Writes about what the shelf knows: glazes, places, buckets."""

import uuid
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.actions.jars import act_on
from inventory.actions.spread import queue_up
from inventory.models import Bucket, Glaze, Place
from studio.actions import change, create, put_away, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


def _with_id(id: uuid.UUID | None) -> dict:
    return {"id": id} if id else {}


@transaction.atomic
def create_glaze(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Glaze:
    require(by, "glaze.change")
    return create(by=by, obj=Glaze(**_with_id(id), **fields), fields=fields)


@transaction.atomic
def change_glaze(*, by: Person, obj: Glaze, values: dict[str, Any], version: int | None = None) -> Glaze:
    require(by, "glaze.change")
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def create_place(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Place:
    require(by, "place.change")
    return create(by=by, obj=Place(**_with_id(id), **fields), fields=fields)


@transaction.atomic
def change_place(*, by: Person, obj: Place, values: dict[str, Any], version: int | None = None) -> Place:
    require(by, "place.change")
    queue_up()  # so that two places are not put into each other at once
    above, seen = values.get("parent"), {obj.pk}
    while above is not None:
        if above.pk in seen:
            raise Refused({"parent": _("A place cannot be inside itself. Choose another.")})
        seen.add(above.pk)
        above = above.parent
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def create_bucket(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Bucket:
    """A vessel with a new lid code. A member may make only an own jar, which stands on no shelf."""
    own_jar = fields.get("owner") == by and not fields.get("place")
    require(by, "fill.own_jar" if own_jar else "bucket.change")
    bucket = Bucket(**_with_id(id), **fields)
    while Bucket.objects.filter(code=bucket.code).exists():
        bucket.code = Bucket._meta.get_field("code").get_default()
    return create(by=by, obj=bucket, fields=["code", *fields])


@transaction.atomic
def change_bucket(*, by: Person, obj: Bucket, values: dict[str, Any], version: int | None = None) -> Bucket:
    """Place, size, remark. A member may change an own jar, which stays their own and off the shelf."""
    own_jar = obj.owner_id == by.pk and "owner" not in values and not values.get("place")
    require(by, "fill.own_jar" if own_jar else "bucket.change")
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def archive(*, by: Person, obj: Any, version: int | None = None, reason: str = "") -> Any:
    """Put a glaze, place or bucket away. Nothing that points at it is lost; a second time changes nothing."""
    act = {Glaze: "glaze.change", Place: "place.change", Bucket: "bucket.change"}[type(obj)]
    require(by, act_on(obj, by, act) if isinstance(obj, Bucket) else act)
    touch(obj, version)
    if isinstance(obj, Bucket) and obj.fills.filter(ended_at=None).exists():
        raise Refused(_("Something is still in this bucket. End the fill first, then put the bucket away."))
    obj.refresh_from_db()
    return put_away(by=by, obj=obj, reason=reason) if obj.archived_at is None else obj
