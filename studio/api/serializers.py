"""Serializers that refuse what they do not know, so that a misspelt field is found at once."""

import difflib

from django.db.models import Model
from rest_framework import serializers


class Strict(serializers.Serializer):
    """A serializer whose unknown input fields are errors that name them."""

    def to_internal_value(self, data):
        if isinstance(data, dict):
            known = {name for name, field in self.fields.items() if not field.read_only}
            unknown = [name for name in data if name not in known]
            if unknown:
                raise serializers.ValidationError({name: [self._no_such(name, known)] for name in unknown})
        return super().to_internal_value(data)

    def _no_such(self, name: str, known: set[str]) -> str:
        if name in self.fields:
            return f"{name} is computed and cannot be set."
        near = difflib.get_close_matches(name, known, n=1)
        return f"There is no field {name}." + (f" Did you mean {near[0]}?" if near else "")


class IdOf(serializers.PrimaryKeyRelatedField):
    """A reference by UUID; what the person may not see does not exist.

    `visible` is the model: its manager's `visible_to(person)` is asked where it has one.
    """

    def __init__(self, model: type[Model], **kwargs) -> None:
        self.of_model = model
        if not kwargs.get("read_only"):
            kwargs["queryset"] = model._default_manager.all()
        kwargs.setdefault("pk_field", serializers.UUIDField())
        super().__init__(**kwargs)

    def get_queryset(self):
        queryset = super().get_queryset()
        request = self.context.get("request")
        if request is not None and hasattr(queryset, "visible_to"):
            return queryset.visible_to(request.user)
        return queryset
