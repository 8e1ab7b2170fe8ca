"""The OpenAPI document says what every endpoint does alike: problem documents, ETag, Idempotency-Key."""

from typing import Any

from django.forms import CharField
from django_filters import ModelChoiceFilter
from drf_spectacular.contrib.django_filters import DjangoFilterExtension
from drf_spectacular.drainage import set_override
from drf_spectacular.openapi import AutoSchema
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter

from studio.api.problems import MEDIA_TYPE

TEXT = {"type": "string"}
PROBLEM = {
    "type": "object",
    "required": ["type", "title", "status"],
    "properties": {
        "type": TEXT,
        "title": TEXT,
        "status": {"type": "integer"},
        "detail": TEXT,
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["field", "sentence"],
                "properties": {"field": TEXT, "sentence": TEXT},
            },
        },
        "your_version": {"type": "integer", "description": "412 only"},
        "current_version": {"type": "integer", "description": "412 only"},
        "current": {"type": "object", "description": "412 only: the record as it is now"},
    },
}
OF_ACTION = {"create": "new_class", "partial_update": "change_class"}


def _header(name: str, description: str, *, required: bool = False) -> OpenApiParameter:
    return OpenApiParameter(name, str, OpenApiParameter.HEADER, required=required, description=description)


class StudioSchema(AutoSchema):
    def get_request_serializer(self) -> Any:
        own = getattr(self.view, OF_ACTION.get(getattr(self.view, "action", ""), ""), None)
        return own or super().get_request_serializer()

    def get_override_parameters(self) -> Any:
        found = []
        if self.method == "POST":
            found.append(_header("Idempotency-Key", "A repeat with this key gets the first answer."))
            if self._has_version() and "{id}" in self.path:
                found.append(_header("If-Match", "The ETag that you read; left out, the newest is changed."))
        if self._needs_version():
            found.append(_header("If-Match", "The ETag that you read.", required=True))
        return found

    def _has_version(self) -> bool:
        return not getattr(self.view, "without_version", False)

    def _needs_version(self) -> bool:
        return self.method in ("PATCH", "PUT", "DELETE") and self._has_version()

    def _get_response_bodies(self, direction: Any = "response") -> dict:
        bodies = super()._get_response_bodies(direction)
        problem = {"$ref": "#/components/responses/Problem"}
        return {**bodies, **dict.fromkeys(self._problem_codes(), problem)}

    def _problem_codes(self) -> list[str]:
        codes = ["401", "403"]
        if self.method != "GET" or self._is_list_view():
            codes.append("400")
        if "{" in self.path:
            codes.append("404")
        if self.method == "POST":
            codes += ["409", "422"]
        if self.method != "GET" and self._has_version():
            codes.append("412")
        if self._needs_version():
            codes.append("428")
        return sorted(codes)


class ReferenceFilters(DjangoFilterExtension):
    """A filter by a record takes its id, or the field that the filter names; one that is read as text takes text."""

    target_class = "studio.api.filters.StrictFilterBackend"
    priority = 1

    def resolve_filter_field(
        self, auto_schema: Any, model: Any, filterset_class: Any, field_name: str, filter_field: Any
    ) -> Any:
        if isinstance(filter_field, ModelChoiceFilter):
            by_id = filter_field.extra.get("to_field_name") is None
            set_override(filter_field, "field", OpenApiTypes.UUID if by_id else OpenApiTypes.STR)
        elif issubclass(filter_field.field_class, CharField):
            set_override(filter_field, "field", OpenApiTypes.STR)
        return super().resolve_filter_field(auto_schema, model, filterset_class, field_name, filter_field)


def finish(result: dict, generator: Any, **kwargs: Any) -> dict:
    """The last step (`POSTPROCESSING_HOOKS`): the one problem document, and no marks of the generator's own."""
    components = result.setdefault("components", {})
    components.setdefault("schemas", {})["Problem"] = PROBLEM
    components["responses"] = {
        "Problem": {
            "description": "Problem document (RFC 9457)",
            "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
        }
    }
    return _clean(result)


# The widest whole numbers of SQLite (8 bytes) and of PostgreSQL (4 and 2): limits of the store, not of the trade.
DATABASE_LIMITS = {2**63 - 1, 2**31 - 1, 2**15 - 1}


def _clean(node: Any) -> Any:
    """Without the generator's own marks, and the same whichever database wrote it."""
    if isinstance(node, list):
        return [_clean(value) for value in node]
    if not isinstance(node, dict):
        return node
    limits = {"maximum", "format"} if node.get("maximum") in DATABASE_LIMITS else set()
    return {key: _clean(value) for key, value in node.items() if key not in limits | {"x-spec-enum-id"}}
