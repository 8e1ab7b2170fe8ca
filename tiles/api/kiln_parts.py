"""Elements and thermocouples of a kiln over the API: noted when they are new, and taken back."""

from typing import Any, ClassVar

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from inventory.api.base import In, Out
from studio.api.base import Reads
from studio.api.serializers import NewId, Strict
from tiles import actions
from tiles.models import Kiln, PartChange


class PartOut(Out):
    class Meta:
        model = PartChange
        fields = ["id", "created_at", "part", "changed_on", "firings_before", "remark", "taken_back_at"]


class PartNew(NewId, In):
    class Meta:
        model = PartChange
        fields = ["id", "part", "changed_on", "firings_before", "remark"]


class PartBackIn(Strict):
    reason = serializers.CharField(required=False, allow_blank=True, max_length=200)


class KilnParts(Reads):
    """Elements and thermocouples of one kiln as they were put in, newest first, those taken back too."""

    acts: ClassVar = {"list": "studio.see", "create": "kiln.change", "take_back": "kiln.change"}
    model = Kiln
    serializer_class = PartOut
    new_class = PartNew

    def rows(self, person: Any) -> Any:
        return Kiln.objects.all()

    @extend_schema(operation_id="kilns_parts_list", responses=PartOut(many=True))
    def list(self, request: Any, pk: Any = None) -> Response:
        return self.parts(self.get_object().part_changes.all(), PartOut)

    @extend_schema(operation_id="kilns_parts_create", request=PartNew, responses={201: PartOut})
    def create(self, request: Any, pk: Any = None) -> Response:
        kiln, version = self.get_object(), self.if_match(required=False)
        made = actions.note_part_change(by=request.user, kiln=kiln, version=version, **self.input(PartNew))
        return self.part(kiln, made, PartOut)

    @extend_schema(operation_id="kilns_parts_take_back", request=PartBackIn, responses={200: PartOut})
    def take_back(self, request: Any, pk: Any = None, change: Any = None) -> Response:
        kiln = self.get_object()
        found = get_object_or_404(kiln.part_changes.select_related("kiln"), pk=change)
        taken = actions.take_part_change_back(by=request.user, part_change=found, **self.input(PartBackIn))
        return self.part(kiln, taken, PartOut, 200)
