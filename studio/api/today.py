"""What needs somebody today, as the page shows it."""

from typing import Any, ClassVar

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, viewsets
from rest_framework.response import Response

from studio.api.filters import refuse_unknown
from studio.today import due_for


class DueOut(serializers.Serializer):
    """`id` is that of a record of `kind`; `url` is the page on which it is dealt with."""

    kind = serializers.CharField()
    id = serializers.UUIDField()
    name = serializers.CharField()
    words = serializers.CharField()
    url = serializers.CharField()
    is_mine = serializers.BooleanField()


class DueGroupOut(serializers.Serializer):
    """`count` of them all; `items` are the first few, those of the person who asks before all others."""

    kind = serializers.CharField()
    title = serializers.CharField()
    act = serializers.CharField()
    count = serializers.IntegerField()
    items = DueOut(many=True)


class TodayOut(serializers.Serializer):
    groups = DueGroupOut(many=True)


class Today(viewsets.ViewSet):
    """What needs whoever asks: the groups of the page Today in its order. Nothing that is not due is listed."""

    acts: ClassVar = {"retrieve": "studio.see"}
    http_method_names = ("get", "head")

    @extend_schema(operation_id="today_retrieve", responses=TodayOut)
    def retrieve(self, request: Any) -> Response:
        refuse_unknown(request.query_params)
        return Response(TodayOut({"groups": due_for(request.user)}).data)
