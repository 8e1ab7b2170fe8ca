"""What of concern is in a glaze, as somebody read it."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from inventory import actions
from inventory.api.base import In, Out
from inventory.api.fills import NotSoIn
from inventory.filters import SubstanceFilter
from inventory.models import Glaze, GlazeSubstance
from studio.api.base import SEE, Reads
from studio.api.serializers import IdOf, NewId, PersonRef

FIELDS = ["substance", "percent", "read_in", "words", "lot", "read_on"]


class SubstanceOut(Out):
    """`substance` is an element's sign, or `stain`; `percent` null: nobody knows how much."""

    glaze = serializers.UUIDField(source="glaze_id")
    text = serializers.CharField(source="__str__")
    by = PersonRef()

    class Meta:
        model = GlazeSubstance
        fields = ["id", "created_at", "glaze", "text", *FIELDS, "by", "taken_back_at"]


class SubstanceNew(NewId, In):
    glaze = IdOf(Glaze)
    read_on = serializers.DateField(required=False)

    class Meta:
        model = GlazeSubstance
        fields = ["id", "glaze", *FIELDS]


class Substances(Reads):
    """Noted by whoever read it; taken back with a reason, never deleted. Ask with `glaze` for one glaze's."""

    acts: ClassVar = {**SEE, "create": "substance.note", "take_back": "substance.note"}
    model = GlazeSubstance
    serializer_class = SubstanceOut
    filterset_class = SubstanceFilter
    without_version = True

    def rows(self, person: Any) -> Any:
        return GlazeSubstance.objects.select_related("by")

    @extend_schema(request=SubstanceNew, responses={201: SubstanceOut})
    def create(self, request: Any) -> Response:
        return self.answer(actions.note_substance(by=request.user, **self.input(SubstanceNew)), 201)

    @extend_schema(request=NotSoIn)
    @action(detail=True, methods=["post"], url_path="take-back")
    def take_back(self, request: Any, pk: Any = None) -> Response:
        row = get_object_or_404(GlazeSubstance.objects.select_related("glaze"), pk=pk)
        reason = self.input(NotSoIn)["reason"]
        return self.answer(actions.take_back_substance(by=request.user, row=row, reason=reason))
