"""What is asked most, with the studio's own evidence, over the API."""

from typing import Any, ClassVar

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers, viewsets
from rest_framework.response import Response

from studio.api.serializers import Strict, checked
from tiles.evidence import evidence_for
from tiles.questions import matching


class AskBucketOut(serializers.Serializer):
    code = serializers.CharField()
    words = serializers.CharField()


class AskAnswerOut(serializers.Serializer):
    """`tiles` are numbers of the newest few; `wall` is the search of the wall that hangs them all."""

    code = serializers.CharField()
    topic = serializers.CharField()
    question = serializers.CharField()
    answer = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]
    caution = serializers.CharField(allow_blank=True)
    evidence = serializers.ListField(child=serializers.CharField())
    tiles = serializers.ListField(child=serializers.CharField())
    buckets = AskBucketOut(many=True)
    wall = serializers.CharField(allow_blank=True)


class AskOut(serializers.Serializer):
    answers = AskAnswerOut(many=True)


class AskIn(Strict):
    q = serializers.CharField(required=False, allow_blank=True, max_length=120)


class Ask(viewsets.ViewSet):
    """General answers with their sources, and what this studio's tiles and buckets say to them."""

    acts: ClassVar = {"retrieve": "studio.see"}
    http_method_names = ("get", "head")

    @extend_schema(operation_id="ask_retrieve", responses=AskOut, parameters=[OpenApiParameter("q", str)])
    def retrieve(self, request: Any) -> Response:
        """All questions, or those with all the words of `q`."""
        sent = checked(AskIn, request.query_params.dict())
        found = matching(sent.get("q", ""))
        told = evidence_for(found, request.user)
        answers = [
            {
                "code": one.code,
                "topic": one.topic,
                "question": one.question,
                "answer": one.answer,
                "source": str(one.source_words),
                "caution": str(one.caution),
                "evidence": told[one.code].words,
                "tiles": [card.number for card in told[one.code].cards],
                "buckets": told[one.code].buckets,
                "wall": told[one.code].wall,
            }
            for one in found
        ]
        return Response(AskOut({"answers": answers}).data)
