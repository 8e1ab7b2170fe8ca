"""Serializers that refuse what they do not know, so that a misspelt field is found at once."""

import difflib
from typing import Any

from django.db.models import Model
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from studio.models import Person


class Strict(serializers.Serializer):
    """A serializer whose unknown input fields are errors that name them."""

    def to_internal_value(self, data: Any) -> Any:
        if isinstance(data, dict):
            known = {name for name, field in self.fields.items() if not field.read_only}
            unknown = [name for name in data if name not in known]
            if unknown:
                raise serializers.ValidationError({name: [_no_such(name, known)] for name in unknown})
        return super().to_internal_value(data)


def _no_such(name: str, known: set[str]) -> str:
    near = difflib.get_close_matches(str(name), known, n=1)
    hint = _("Did you mean %(name)s?") % {"name": near[0]} if near else ""
    return (_("There is no field %(name)s here.") % {"name": name} + " " + hint).strip()


def checked(serializer_class: type[serializers.BaseSerializer], data: Any, **kwargs: Any) -> dict[str, Any]:
    """A body or a query as `serializer_class` reads it; raises ValidationError, which answers 400."""
    serializer = serializer_class(data=data, **kwargs)
    try:
        serializer.is_valid(raise_exception=True)
    except OverflowError as error:  # at either end of the calendar, where a time zone leads out of it
        raise serializers.ValidationError(
            _("A moment in it is none that can have been. Look at the year.")
        ) from error
    return dict(serializer.validated_data)


class FindingSaid(serializers.Serializer):
    """One thing that a check has to say: of figures that were sent, of a plan, or of what was logged."""

    code = serializers.CharField()
    level = serializers.ChoiceField(("stop", "warn", "note"))
    sentence = serializers.CharField()
    field = serializers.CharField(help_text="The field of the request that it is about.")
    source = serializers.CharField(help_text="What it rests on.")  # type: ignore[assignment]


class StrictModel(Strict, serializers.ModelSerializer):
    """Input for an action. Uniqueness and ranges are the model's, which the action checks; asking twice would give
    two different sentences.
    """

    def get_validators(self) -> list:
        return []

    def get_uniqueness_extra_kwargs(self, field_names: Any, declared_fields: Any, extra_kwargs: Any) -> Any:
        return extra_kwargs, {}


class NumberField(serializers.FloatField):
    """A number; true is none, though a float would take it for 1."""

    def to_internal_value(self, data: Any) -> float:
        if isinstance(data, bool):
            self.fail("invalid")
        return super().to_internal_value(data)


class YesNoField(serializers.BooleanField):
    """True or false. What a form leaves out is left out, where a browser's unticked box would be a no."""

    default_empty_html = serializers.empty


class IdOf(serializers.PrimaryKeyRelatedField):
    """A reference by UUID; what the person may not see does not exist."""

    default_error_messages = {
        "does_not_exist": gettext_lazy("There is nothing with the id {pk_value}."),
        "incorrect_type": gettext_lazy("Give an id, as text."),
    }

    def __init__(self, model: type[Model], **kwargs: Any) -> None:
        if not kwargs.get("read_only"):
            kwargs["queryset"] = model._default_manager.all()
        kwargs.setdefault("pk_field", serializers.UUIDField())
        super().__init__(**kwargs)

    def get_queryset(self) -> Any:
        queryset: Any = super().get_queryset()
        request = self.context.get("request")
        if request is not None and hasattr(queryset, "visible_to"):
            return queryset.visible_to(request.user)
        return queryset


class PersonRef(serializers.ModelSerializer):
    """Who: shown to everybody who is logged in."""

    class Meta:
        model = Person
        fields = ["id", "name"]


class NewId(Strict):
    """The id that a client may choose for a new record, so that it can be sent again after a lost answer."""

    id = serializers.UUIDField(required=False)


class Nothing(Strict):
    """A body that says nothing: the address says it all."""
