"""One FilterSet for page, fragment, CSV and API; a name it does not know is a mistake, never ignored."""

import difflib
from typing import Any

import django_filters as df
from django import forms
from django.db.models import QuerySet
from django.http import HttpRequest, QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django_filters import FilterSet
from django_filters.widgets import BooleanWidget

from studio.errors import Refused

PAGING = {"cursor", "page_size", "format"}


class _YesNoInput(BooleanWidget):
    """Hands on what is neither yes nor no, so that the field can refuse it."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__(attrs)
        self.choices = [
            ("", gettext_lazy("any")),
            ("true", gettext_lazy("yes")),
            ("false", gettext_lazy("no")),
        ]

    def value_from_datadict(self, data: Any, files: Any, name: str) -> Any:
        sent = data.get(name) or None
        known = super().value_from_datadict(data, files, name)
        return sent if known is None else known


class _YesNoField(forms.NullBooleanField):
    widget = _YesNoInput

    def to_python(self, value: Any) -> Any:
        if value is not None and not isinstance(value, bool):
            raise forms.ValidationError(gettext_lazy("Write true or false."))
        return value


class YesNo(df.BooleanFilter):
    """True or false; anything else is a mistake, never 'not asked'."""

    field_class = _YesNoField


class StrictFilterSet(FilterSet):
    """A FilterSet that also refuses names it does not have (`unknown` maps each to a sentence)."""

    @property
    def unknown(self) -> dict[str, list[str]]:
        known = dict.fromkeys(self.form.fields)
        for name, field in self.form.fields.items():
            for suffix in getattr(field.widget, "suffixes", []) or []:
                known[f"{name}_{suffix}" if suffix else name] = None
        found = {}
        for name in self.data:
            if name in known or name in PAGING:
                continue
            near = difflib.get_close_matches(name, known, n=1)
            hint = _("Did you mean %(name)s?") % {"name": near[0]} if near else ""
            found[name] = [(_("There is no filter %(name)s.") % {"name": name} + " " + hint).strip()]
        return found

    @property
    def problems(self) -> dict[str, list[str]]:
        """Sentences by field name; empty when everything can be used."""
        return {**{f or "": [str(e) for e in errors] for f, errors in self.errors.items()}, **self.unknown}


def filtered(
    filterset_class: type[StrictFilterSet],
    data: QueryDict | dict,
    queryset: QuerySet,
    request: HttpRequest | None = None,
) -> tuple[StrictFilterSet, QuerySet, dict[str, list[str]]]:
    """(filterset, rows, problems). With problems the rows are none: a half-understood search would mislead."""
    filterset: Any = filterset_class(data, queryset=queryset, request=request)
    problems = filterset.problems
    return filterset, (queryset.none() if problems else filterset.qs), problems


def named(form: Any, problems: dict[str, list[str]]) -> list[tuple[str, list[str]]]:
    """Problems under the names that a page shows; a name that the form lacks is in its sentence already."""
    return [(str(form.fields[f].label) if f in form.fields else "", said) for f, said in problems.items()]


def filtered_or_refused(
    filterset_class: type[StrictFilterSet], data: Any, queryset: QuerySet, request: Any
) -> QuerySet:
    """The rows, or Refused naming each filter that cannot be used."""
    _filterset, rows, problems = filtered(filterset_class, data, queryset, request)
    if problems:
        raise Refused(problems)
    return rows
