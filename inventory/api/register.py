"""The register in JSON: the rows of the page and of the table."""

from typing import Any, ClassVar

from rest_framework import serializers
from rest_framework.response import Response

from inventory.filters import RegisterFilter
from inventory.models import Fill
from inventory.queries import WALK
from inventory.register import register_fills, register_rows
from studio.api.base import Reads


class RegisterRowOut(serializers.Serializer):
    """One fill in use, in words. `id` is the fill's; size and price are null to whoever may not change fills."""

    id = serializers.UUIDField()
    code = serializers.CharField()
    place = serializers.CharField()
    glaze = serializers.CharField()
    kind = serializers.CharField()
    lot = serializers.CharField()
    made_on = serializers.DateField(allow_null=True)
    label = serializers.CharField()  # type: ignore[assignment]
    label_condition = serializers.CharField()
    label_read_by = serializers.CharField()
    label_read_on = serializers.DateField(allow_null=True)
    flags = serializers.ListField(child=serializers.CharField())
    use = serializers.CharField()
    use_words = serializers.CharField()
    use_reasons = serializers.ListField(child=serializers.CharField())
    food = serializers.CharField()
    food_words = serializers.CharField()
    food_reasons = serializers.ListField(child=serializers.CharField())
    sg = serializers.CharField()
    sg_on = serializers.DateTimeField(allow_null=True)
    sg_window = serializers.CharField()
    level = serializers.CharField()
    balance_ml = serializers.DecimalField(max_digits=9, decimal_places=1, allow_null=True)
    volume = serializers.CharField()
    health_statement = serializers.CharField()
    child_fit = serializers.CharField()
    child_fit_read_by = serializers.CharField()
    child_fit_read_on = serializers.DateField(allow_null=True)
    container_size = serializers.CharField(allow_null=True)
    price = serializers.DecimalField(max_digits=9, decimal_places=2, allow_null=True)
    hazards = serializers.ListField(
        child=serializers.CharField(), help_text="Cautions for handling it raw, by substance."
    )
    laboratory = serializers.CharField(help_text="Day and laboratory of the newest result with this glaze.")


class Register(Reads):
    """Every fill in use, in the order of the walk. For single values read `fills`."""

    acts: ClassVar = {"list": "studio.see"}
    model = Fill
    serializer_class = RegisterRowOut
    filterset_class = RegisterFilter
    cursor_ordering = (*WALK, "id")

    def rows(self, person: Any) -> Any:
        return register_fills(person)

    def list(self, request: Any) -> Response:
        page = self.paginate_queryset(self.filter_queryset(self.get_queryset()))
        rows = register_rows(page or [], request.user)
        return self.get_paginated_response(RegisterRowOut(rows, many=True).data)
