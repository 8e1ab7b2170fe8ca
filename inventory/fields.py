"""A cone in a model, in a form and in the API: always the one Cone type, never a bare number."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from inventory.calc.cones import Cone, ConeError
from inventory.calc.slurry import SgError, parse_specific_gravity
from inventory.sentences import cone_error_sentence, sg_error_sentence


class ConeField(models.SmallIntegerField):
    """Stored as the rank in half steps, so that the database orders cones as a kiln does."""

    description = "pyrometric cone"
    # For the type checker only: the attribute is a Cone (or None), not the integer that is stored.
    _pyi_private_set_type: Any
    _pyi_private_get_type: Any

    def from_db_value(self, value: int | None, expression: Any, connection: Any) -> Cone | None:
        return None if value is None else Cone(value)

    def to_python(self, value: Any) -> Cone | None:
        if value is None or value == "":
            return None
        if isinstance(value, Cone):
            return value
        try:
            return Cone.parse(value)
        except ConeError as error:
            raise ValidationError(cone_error_sentence(error), code=error.code) from error

    def get_prep_value(self, value: Any) -> int | None:
        cone = self.to_python(value)
        return None if cone is None else cone.rank

    def value_to_string(self, obj: models.Model) -> str:
        cone: Any = self.value_from_object(obj)
        return "" if cone is None else cone.code

    def formfield(self, **kwargs: Any) -> Any:
        return super(models.IntegerField, self).formfield(**{"form_class": ConeFormField, **kwargs})

    def run_validators(self, value: Any) -> None:
        """A Cone is valid by being one; the integer validators do not speak of it."""

    @property
    def validators(self) -> list:
        return []


class ConeFormField(forms.CharField):
    """Text such as 6, 06, 5½; the error says what to write."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.pop("min_value", None), kwargs.pop("max_value", None)
        kwargs.setdefault(
            "widget", forms.TextInput(attrs={"size": 6, "autocomplete": "off", "autocapitalize": "off"})
        )
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        return value.code if isinstance(value, Cone) else value

    def to_python(self, value: Any) -> Any:
        if isinstance(value, Cone):
            return value
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return Cone.parse(text)
        except ConeError as error:
            raise ValidationError(cone_error_sentence(error), code=error.code) from error

    def has_changed(self, initial: Any, data: Any) -> bool:
        return (self.prepare_value(initial) or "") != (data or "")


@extend_schema_field(
    {"type": "string", "example": "05.5", "description": "Cone code: 022 ... 01, 1 ... 14, halves 05.5, 5.5"}
)
class ConeJsonField(serializers.Field):
    """The canonical ASCII code in JSON, as text: '06' and '6' differ."""

    def to_representation(self, value: Cone) -> str:
        return value.code

    def to_internal_value(self, data: Any) -> Cone:
        try:
            return Cone.parse(data)
        except ConeError as error:
            raise serializers.ValidationError(cone_error_sentence(error)) from error


class SpecificGravityFormField(forms.CharField):
    """1.53 or 1,53; 153 asks 'did you mean 1.53?'."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "widget", forms.TextInput(attrs={"inputmode": "decimal", "size": 6, "autocomplete": "off"})
        )
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return parse_specific_gravity(text)
        except SgError as error:
            raise ValidationError(sg_error_sentence(error), code=error.code) from error


@extend_schema_field({"type": "string", "format": "decimal", "example": "1.530"})
class SpecificGravityJsonField(serializers.Field):
    """A decimal as text or number in JSON, 1.00 < SG <= 2.50."""

    def to_representation(self, value: Any) -> str:
        return str(value)

    def to_internal_value(self, data: Any) -> Any:
        try:
            return parse_specific_gravity(data if isinstance(data, str) else str(data))
        except SgError as error:
            raise serializers.ValidationError(sg_error_sentence(error)) from error
