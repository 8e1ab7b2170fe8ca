"""Buckets: the vessel, its code, and what is in it now."""

from typing import Any, ClassVar

from inventory import actions
from inventory.api.base import In, Out, PlaceRef
from inventory.api.fills import FillInBucket
from inventory.api.glazes import Archivable
from inventory.filters import BucketFilter
from inventory.models import Bucket, Place
from inventory.queries import WALK
from studio.api.base import SEE
from studio.api.serializers import IdOf, NewId, PersonRef
from studio.models import Person

FIELDS = ["place", "owner", "capacity_ml", "inner_height_mm", "tare_g", "remark"]


class BucketOut(Out):
    place = PlaceRef(allow_null=True)
    owner = PersonRef(allow_null=True)
    fill = FillInBucket(allow_null=True)

    class Meta:
        model = Bucket
        fields = ["id", "version", "created_at", "code", *FIELDS, "archived_at", "fill"]


class BucketChange(In):
    place = IdOf(Place, required=False, allow_null=True)
    owner = IdOf(Person, required=False, allow_null=True)

    class Meta:
        model = Bucket
        fields = FIELDS


class BucketNew(NewId, BucketChange):
    class Meta(BucketChange.Meta):
        fields = ["id", *FIELDS]


class Buckets(Archivable):
    """A bucket's code is given to it when it is made. A member makes and changes only an own jar."""

    acts: ClassVar = {**SEE, **dict.fromkeys(["create", "partial_update", "archive"], "fill.own_jar")}
    model = Bucket
    serializer_class = BucketOut
    filterset_class = BucketFilter
    cursor_ordering = WALK
    new_class, make = BucketNew, actions.create_bucket
    change_class, alter = BucketChange, actions.change_bucket

    def rows(self, person: Any) -> Any:
        return Bucket.objects.visible_to(person).for_the_shelf()
