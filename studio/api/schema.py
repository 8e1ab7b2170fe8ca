"""The OpenAPI document says what every endpoint does alike: problem documents, ETag, Idempotency-Key."""

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse, inline_serializer
from rest_framework import serializers

PROBLEM = inline_serializer(
    "Problem",
    {
        "type": serializers.CharField(),
        "title": serializers.CharField(),
        "status": serializers.IntegerField(),
        "detail": serializers.CharField(required=False),
        "errors": inline_serializer(
            "ProblemField",
            {"field": serializers.CharField(), "sentence": serializers.CharField()},
            many=True,
            required=False,
        ),
    },
)


class StudioSchema(AutoSchema):
    def get_request_serializer(self):
        view = self.view
        if self.method == "POST" and getattr(view, "action", "") == "create" and hasattr(view, "input_class"):
            return view.input_class
        if self.method == "PATCH" and hasattr(view, "input_class"):
            return view.input_class
        return super().get_request_serializer()

    def get_override_parameters(self):
        more = []
        if self.method == "POST":
            more.append(
                OpenApiParameter(
                    "Idempotency-Key",
                    str,
                    OpenApiParameter.HEADER,
                    description="A repeat with this key gets the first answer.",
                )
            )
        if self.method == "PATCH":
            more.append(
                OpenApiParameter(
                    "If-Match",
                    str,
                    OpenApiParameter.HEADER,
                    required=True,
                    description="The ETag that you read.",
                )
            )
        return more

    def get_response_serializers(self):
        found = super().get_response_serializers()
        if not isinstance(found, dict):
            code = "201" if self.method == "POST" else "200"
            found = {code: found}
        problem = OpenApiResponse(PROBLEM, description="Problem document (RFC 9457)")
        codes = ["401", "403"]
        if self.method != "GET" or self._is_list_view():
            codes.append("400")
        if "{" in self.path:
            codes.append("404")
        if self.method == "PATCH":
            codes += ["412", "428"]
        for code in codes:
            found.setdefault((code, "application/problem+json"), problem)
        return found
