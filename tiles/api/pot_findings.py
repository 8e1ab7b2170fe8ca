"""What there is to say before a planned pot is glazed and fired."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from studio.api.serializers import FindingSaid, checked
from tiles.api.food import PotIn, PotLayerIn, Pots
from tiles.food import MOST_LAYERS
from tiles.models import Layer
from tiles.planning import findings_of_pot


class PlannedLayerIn(PotLayerIn):
    """How it is meant to go on is checked as on a tile; what is left out is not known."""

    method = serializers.ChoiceField(Layer.Method.choices, required=False)
    coats = serializers.IntegerField(required=False, min_value=1, max_value=12)
    tool = serializers.CharField(required=False, allow_blank=True, max_length=60)
    ground_state = serializers.ChoiceField(Layer.GroundState.choices, required=False)


class PotFindingsIn(PotIn):
    layers = serializers.ListField(child=PlannedLayerIn(), max_length=MOST_LAYERS)


class PotFindingsOut(serializers.Serializer):
    """A pot that is only planned has no record, so there is nothing to answer a finding on."""

    findings = FindingSaid(many=True)


class PotFindings(Pots):
    """Body and kiln first, then each layer from the clay outwards. Nothing is kept."""

    acts: ClassVar = {"findings": "studio.see"}

    @extend_schema(request=PotFindingsIn, responses=PotFindingsOut, operation_id="pots_findings")
    def findings(self, request: Any) -> Response:
        values = checked(PotFindingsIn, request.data, context=self.get_serializer_context())
        where = {name: values.get(name) for name in ("body", "cone", "kiln")}
        return Response(PotFindingsOut({"findings": findings_of_pot(values["layers"], **where)}).data)
