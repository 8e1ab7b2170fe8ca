"""What there is to say before a planned pot is glazed and fired."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.response import Response

from tiles.api.food import PotIn, Pots
from tiles.planning import findings_of_pot


class PotFindingOut(serializers.Serializer):
    """A pot that is only planned has no record, so there is nothing to answer a finding on."""

    code = serializers.CharField()
    level = serializers.ChoiceField(["stop", "warn", "note"])
    sentence = serializers.CharField()
    field = serializers.CharField(allow_blank=True)
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]


class PotFindingsOut(serializers.Serializer):
    findings = PotFindingOut(many=True)


class PotFindings(Pots):
    """Body and kiln first, then each layer from the clay outwards. Nothing is kept."""

    acts: ClassVar = {"findings": "studio.see"}

    @extend_schema(request=PotIn, responses=PotFindingsOut, operation_id="pots_findings")
    def findings(self, request: Any) -> Response:
        said = PotIn(data=request.data, context=self.get_serializer_context())
        said.is_valid(raise_exception=True)
        values = dict(said.validated_data)
        where = {name: values.get(name) for name in ("body", "cone", "kiln")}
        return Response(PotFindingsOut({"findings": findings_of_pot(values["layers"], **where)}).data)
