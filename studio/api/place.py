"""The studio itself."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from studio.actions.place import change_studio
from studio.api.base import Changes
from studio.api.serializers import StrictModel
from studio.models import Studio

FIELDS = [
    "name",
    "time_zone",
    "language",
    "temperature_unit",
    "units",
    "bucket_pages_open",
    "open_wall_open",
    "sg_stale_after_days",
    "station_locks_after_seconds",
    "opening_c",
    "price_per_kwh",
    "currency",
]


class StudioOut(serializers.ModelSerializer):
    class Meta:
        model = Studio
        fields = ["version", *FIELDS, "is_demo"]


class StudioChange(StrictModel):
    class Meta:
        model = Studio
        fields = FIELDS


class StudioSettings(Changes):
    """What `setup` asked, and whether lids and the open wall answer visitors."""

    acts: ClassVar = {"retrieve": "studio.see", "partial_update": "studio.settings"}
    model = Studio
    serializer_class = StudioOut
    change_class = StudioChange
    filter_backends = ()

    def represent(self, record: Any) -> dict:
        return StudioOut(record).data

    def get_object(self) -> Studio:
        return Studio.current()

    @extend_schema(operation_id="studio_retrieve")
    def retrieve(self, request: Any, pk: Any = None) -> Response:
        return super().retrieve(request)

    @staticmethod
    def alter(*, by: Any, obj: Studio, values: dict, version: int) -> Studio:
        return change_studio(by=by, values=values, version=version)

    @extend_schema(operation_id="studio_partial_update")
    def partial_update(self, request: Any, pk: Any = None) -> Response:
        return super().partial_update(request)
