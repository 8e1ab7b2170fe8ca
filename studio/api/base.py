"""The one shape of every resource: list, retrieve, create, change, with ETag, If-Match and Idempotency-Key."""

import hashlib
import json
from collections.abc import Callable
from functools import partial
from typing import Any, ClassVar

from django.db import IntegrityError, models, transaction
from rest_framework import exceptions, serializers, status, viewsets
from rest_framework.response import Response

from studio.api.problems import KeyReused, PreconditionRequired
from studio.models import IdempotencyRecord


class Idempotent:
    """A POST that carries Idempotency-Key is done once; a repeat gets the first answer again.

    The key's row and the work are one transaction: a second request with the key waits for the first, and a failed
    request leaves no key behind. Only answers below 400 are kept.
    """

    def initial(self, request, *args, **kwargs):
        super().initial(request, *args, **kwargs)  # type: ignore[misc]
        key = request.headers.get("Idempotency-Key", "").strip()
        if request.method == "POST" and key:
            if len(key) > 200:
                raise exceptions.ValidationError(
                    {"Idempotency-Key": ["Use a key of at most 200 characters."]}
                )
            self.post = partial(self._once, key, self.post)  # type: ignore[has-type]

    def _once(self, key: str, handler: Callable, request, *args, **kwargs) -> Response:
        where = f"{request.method} {request.get_full_path()}"[:300]
        digest = self._digest(request)
        try:
            with transaction.atomic():
                record = IdempotencyRecord.objects.create(
                    person=request.user, key=key, method_and_path=where, digest=digest
                )
                response = handler(request, *args, **kwargs)
                record.status, record.body = response.status_code, json.loads(_json(response.data))
                record.headers = {k: v for k, v in response.headers.items() if k in ("ETag", "Location")}
                record.save()
                return response
        except IntegrityError:
            kept = IdempotencyRecord.objects.filter(person=request.user, key=key).first()
            if kept is None:
                raise
        if (kept.method_and_path, kept.digest) != (where, digest):
            raise KeyReused
        return Response(
            kept.body, status=kept.status, headers={**kept.headers, "Idempotency-Replayed": "true"}
        )

    def _digest(self, request) -> str:
        """Of the parsed body, so that the order of JSON members or a new multipart boundary makes no difference."""
        sums = hashlib.sha256()
        data = request.data
        if hasattr(data, "lists"):
            for name, values in sorted(data.lists()):
                for value in values:
                    sums.update(name.encode())
                    if hasattr(value, "chunks"):
                        for chunk in value.chunks():
                            sums.update(chunk)
                        value.seek(0)
                    else:
                        sums.update(str(value).encode())
        else:
            sums.update(json.dumps(data, sort_keys=True, default=str).encode())
        return sums.hexdigest()


def _json(data: Any) -> bytes:
    from rest_framework.renderers import JSONRenderer

    return JSONRenderer().render(data)


class Reads(Idempotent, viewsets.GenericViewSet):
    """List and retrieve. Subclasses give `acts`, `serializer_class`, `get_queryset`, maybe `filterset_class`."""

    acts: ClassVar[dict[str, str]] = {"list": "studio.see", "retrieve": "studio.see"}

    def represent(self, record: models.Model) -> dict:
        """The record as the API shows it; read again through the queryset, so that annotations are there."""
        fresh = self.get_queryset().get(pk=record.pk)
        return self.get_serializer(fresh).data

    def owns(self, record: models.Model) -> bool:
        return isinstance(record, self.get_queryset().model)

    def answer(self, record: models.Model, code: int = status.HTTP_200_OK) -> Response:
        """The record with its ETag."""
        body = self.represent(record)
        headers = {"ETag": f'"{body["version"]}"'} if "version" in body else {}
        return Response(body, status=code, headers=headers)

    def if_match(self) -> int:
        """The version that the client read, from If-Match; 428 without one."""
        tag = self.request.headers.get("If-Match", "").strip()
        if not tag:
            raise PreconditionRequired
        try:
            return int(tag.removeprefix("W/").strip('"'))
        except ValueError as error:
            raise exceptions.ValidationError(
                {"If-Match": ['Send the ETag that you read, such as "3".']}
            ) from error

    def input(self, serializer_class: type[serializers.Serializer], **kwargs: Any) -> dict:
        """The body, checked by `serializer_class`."""
        serializer = serializer_class(data=self.request.data, context=self.get_serializer_context(), **kwargs)
        serializer.is_valid(raise_exception=True)
        return dict(serializer.validated_data)

    def list(self, request):
        page = self.paginate_queryset(self.filter_queryset(self.get_queryset()))
        return self.get_paginated_response(self.get_serializer(page, many=True).data)

    def retrieve(self, request, pk=None):
        return self.answer(self.get_object())


class Resource(Reads):
    """Adds create and change. `make(by=, **fields)` and `alter(by=, obj=, values=, version=)` are the actions."""

    input_class: ClassVar[type[serializers.Serializer]]
    make: ClassVar[Callable[..., models.Model]]
    alter: ClassVar[Callable[..., models.Model]]

    def create(self, request):
        return self.answer(
            type(self).make(by=request.user, **self.input(self.input_class)), status.HTTP_201_CREATED
        )

    def partial_update(self, request, pk=None):
        obj, version = self.get_object(), self.if_match()
        values = self.input(self.input_class, partial=True)
        return self.answer(type(self).alter(by=request.user, obj=obj, values=values, version=version))
