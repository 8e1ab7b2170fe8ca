"""The kinds of filters that the wall and the firings are asked with."""

from functools import cached_property
from typing import Any

import django_filters as df
from django import forms
from django.utils.translation import gettext_lazy as _
from django_filters.fields import ModelChoiceField

from inventory.fields import ConeFormField
from inventory.walk import Walk

NONE_SUCH = {"invalid_choice": _("Nothing here goes by that. Choose one from the list, or leave it open.")}


class ConeFilter(df.Filter):
    field_class = ConeFormField


class OneOfField(ModelChoiceField):
    """What is no record of the list is refused in the same words, whatever is wrong with it."""

    def to_python(self, value):
        try:
            return super().to_python(value)
        except forms.ValidationError as error:
            raise forms.ValidationError(
                self.error_messages["invalid_choice"], code="invalid_choice"
            ) from error


class OneOf(df.ModelChoiceFilter):
    """One record of a list."""

    field_class = OneOfField

    def __init__(self, **kwargs) -> None:
        super().__init__(error_messages=NONE_SUCH, empty_label=_("any"), **kwargs)


class Chips(df.MultipleChoiceFilter):
    """Any of a few choices, as chips."""

    def __init__(self, **kwargs) -> None:
        super().__init__(widget=forms.CheckboxSelectMultiple, **kwargs)


class OneWord(df.ChoiceFilter):
    """One of a few choices."""

    def __init__(self, **kwargs) -> None:
        super().__init__(empty_label=_("any"), **kwargs)


class PlaceField(OneOfField):
    """A place by its whole way, from the room on."""

    @cached_property
    def walk(self) -> Walk:
        return Walk.now()

    def label_from_instance(self, obj: Any) -> str:
        return self.walk.words(obj.pk)


class InPlace(OneOf):
    """One place, with everything that is in it."""

    field_class = PlaceField
