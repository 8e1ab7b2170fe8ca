"""Glazes, and where things stand."""

from collections.abc import Callable
from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import In, Out
from inventory.fields import SpecificGravityJsonField
from inventory.filters import GlazeFilter, PlaceFilter
from inventory.models import Glaze, Place
from studio.api.base import SEE, Resource
from studio.api.serializers import IdOf, NewId, Strict

GLAZE_FIELDS = [
    "name",
    "kind",
    "origin",
    "maker",
    "product_code",
    "cone_low",
    "cone_high",
    "sg_low",
    "sg_high",
    "surface",
    "opacity",
    "colour",
    "expected_movement_mm",
    "advice",
    "claim",
    "health_statement",
    "remark",
]


class WhyIn(Strict):
    reason = serializers.CharField(required=False, allow_blank=True)


class Archivable(Resource):
    """Adds POST .../archive: put away, never deleted. `put_away(by=, obj=, version=, reason=)` is the action."""

    put_away: ClassVar[Callable[..., Any]] = actions.archive

    @extend_schema(request=WhyIn)
    @action(detail=True, methods=["post"])
    def archive(self, request: Any, pk: Any = None) -> Response:
        record, version = self.get_object(), self.if_match(required=False)
        archived = type(self).put_away(by=request.user, obj=record, version=version, **self.input(WhyIn))
        return self.answer(archived)


class GlazeOut(Out):
    class Meta:
        model = Glaze
        fields = ["id", "version", "created_at", *GLAZE_FIELDS, "archived_at"]


class GlazeChange(In):
    sg_low = SpecificGravityJsonField(required=False, allow_null=True)
    sg_high = SpecificGravityJsonField(required=False, allow_null=True)

    class Meta:
        model = Glaze
        fields = GLAZE_FIELDS


class GlazeNew(NewId, GlazeChange):
    class Meta(GlazeChange.Meta):
        fields = ["id", *GLAZE_FIELDS]


class Glazes(Archivable):
    """Recipes and products by name; what stands in a bucket is a fill of one."""

    acts: ClassVar = {
        **SEE,
        **dict.fromkeys(["create", "partial_update", "archive"], "glaze.change"),
    }
    model = Glaze
    serializer_class = GlazeOut
    filterset_class = GlazeFilter
    new_class, make = GlazeNew, actions.create_glaze
    change_class, alter = GlazeChange, actions.change_glaze

    def rows(self, person: Any) -> Any:
        return Glaze.objects.all()


class PlaceOut(Out):
    parent = serializers.UUIDField(source="parent_id", allow_null=True)  # type: ignore[assignment]

    class Meta:
        model = Place
        fields = ["id", "version", "created_at", "name", "kind", "parent", "order", "archived_at"]


class PlaceChange(In):
    parent = IdOf(Place, required=False, allow_null=True)  # type: ignore[assignment]

    class Meta:
        model = Place
        fields = ["name", "kind", "parent", "order"]


class PlaceNew(NewId, PlaceChange):
    class Meta(PlaceChange.Meta):
        fields = ["id", "name", "kind", "parent", "order"]


class Places(Archivable):
    """Rooms, shelves, boards and hooks."""

    acts: ClassVar = {
        **SEE,
        **dict.fromkeys(["create", "partial_update", "archive"], "place.change"),
    }
    model = Place
    serializer_class = PlaceOut
    filterset_class = PlaceFilter
    new_class, make = PlaceNew, actions.create_place
    change_class, alter = PlaceChange, actions.change_place

    def rows(self, person: Any) -> Any:
        return Place.objects.all()
