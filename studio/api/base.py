"""The one shape of every resource: list, retrieve, create, change, with ETag, If-Match and Idempotency-Key."""

from collections.abc import Callable
from typing import Any, ClassVar

from django.db import models
from rest_framework import exceptions, serializers, status, viewsets
from rest_framework.generics import get_object_or_404
from rest_framework.response import Response

from studio.api.filters import refuse_unknown
from studio.api.idempotency import Idempotent
from studio.api.problems import PreconditionRequired
from studio.api.serializers import checked

SEE = {"list": "studio.see", "retrieve": "studio.see"}


class Reads(Idempotent, viewsets.GenericViewSet):
    """List and retrieve. Subclasses give `model`, `serializer_class`, `rows(person)`, maybe `filterset_class`.

    `acts` names the act of the role table for each action; an action without one is served to nobody.
    """

    acts: ClassVar[dict[str, str]] = SEE
    model: ClassVar[type[models.Model]]
    lookup_value_converter = "uuid"
    # No OPTIONS: the OpenAPI document says more.
    http_method_names = ("get", "head", "post", "put", "patch", "delete")

    def rows(self, person: Any) -> models.QuerySet:
        """What `person` may see, with everything that the serializer reads."""
        raise NotImplementedError

    def get_queryset(self) -> models.QuerySet:
        if getattr(self, "swagger_fake_view", False):
            return self.model._default_manager.none()
        return self.rows(self.request.user)

    def get_object(self) -> Any:
        """By its address alone: the filters of the list must not hide an archived record."""
        return get_object_or_404(self.get_queryset(), pk=self.kwargs["pk"])

    def represent(self, record: models.Model) -> dict:
        """The record as the API shows it; read again through the queryset, so that annotations are there."""
        fresh = self.get_queryset().get(pk=record.pk)
        return self.get_serializer(fresh).data

    def owns(self, record: models.Model) -> bool:
        return isinstance(record, self.model)

    def answer(self, record: models.Model, code: int = status.HTTP_200_OK) -> Response:
        """The record with its ETag."""
        body = self.represent(record)
        headers = {"ETag": f'"{body["version"]}"'} if "version" in body else {}
        return Response(body, status=code, headers=headers)

    def part(
        self, record: models.Model, part: Any, serializer_class: type, code: int = status.HTTP_201_CREATED
    ) -> Response:
        """A part of `record` (a reading, a layer), with the record's new version as ETag where it has one."""
        body = serializer_class(part, context=self.get_serializer_context()).data
        return Response(body, status=code, headers=self.etag(record))

    def etag(self, record: models.Model) -> dict[str, str]:
        if not hasattr(record, "version"):
            return {}
        version = self.model._default_manager.values_list("version", flat=True).get(pk=record.pk)
        return {"ETag": f'"{version}"'}

    def parts(self, rows: models.QuerySet, serializer_class: type) -> Response:
        """A page of the record's parts, newest first."""
        refuse_unknown(self.request.query_params)
        page = self.paginate_queryset(rows)
        context = self.get_serializer_context()
        return self.get_paginated_response(serializer_class(page, many=True, context=context).data)

    def if_match(self, *, required: bool = True) -> int | None:
        """The version that the client read, from If-Match; 428 where it is required and missing."""
        tag = self.request.headers.get("If-Match", "").strip()
        if not tag:
            if required:
                raise PreconditionRequired
            return None
        number = tag.removeprefix("W/").strip('"')
        if not (number.isascii() and number.isdigit() and len(number) < 10):
            raise exceptions.ValidationError({"If-Match": ['Send the ETag that you read, such as "3".']})
        return int(number)

    def input(self, serializer_class: type[serializers.BaseSerializer], **kwargs: Any) -> dict:
        """The body, checked by `serializer_class`."""
        return checked(serializer_class, self.request.data, context=self.get_serializer_context(), **kwargs)

    def changes(self, serializer_class: type[serializers.BaseSerializer]) -> dict:
        """The body of a PATCH: at least one field."""
        values = self.input(serializer_class, partial=True)
        if not values:
            raise exceptions.ValidationError("Send at least one field to change.")
        return values

    def list(self, request: Any) -> Response:
        page = self.paginate_queryset(self.filter_queryset(self.get_queryset()))
        return self.get_paginated_response(self.get_serializer(page, many=True).data)

    def retrieve(self, request: Any, pk: Any = None) -> Response:
        return self.answer(self.get_object())


class Changes(Reads):
    """Adds PATCH. `alter(by=, obj=, values=, version=)` is the action, `change_class` its input."""

    change_class: ClassVar[type[serializers.BaseSerializer]]
    alter: ClassVar[Callable[..., models.Model]]

    def partial_update(self, request: Any, pk: Any = None) -> Response:
        obj, version = self.get_object(), self.if_match()
        values = self.changes(self.change_class)
        return self.answer(type(self).alter(by=request.user, obj=obj, values=values, version=version))


class Resource(Changes):
    """Adds POST. `make(by=, **fields)` is the action, `new_class` its input."""

    new_class: ClassVar[type[serializers.BaseSerializer]]
    make: ClassVar[Callable[..., models.Model]]

    def create(self, request: Any) -> Response:
        made = type(self).make(by=request.user, **self.input(self.new_class))
        return self.answer(made, status.HTTP_201_CREATED)
