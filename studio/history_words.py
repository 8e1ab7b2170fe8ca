"""A history row in words: what each value was called and what it meant, before and after."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.core.exceptions import FieldDoesNotExist
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.dateparse import parse_date, parse_datetime
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from studio import registry
from studio.models import Change

# A value of a part (a layer, a flag, an entry) has no field on the record that the row is about: its shape tells.
MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d\S*")
CODE = re.compile(r"[a-z]+(?:_[a-z]+)+")
KEY = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}|[0-9a-f]{32}\.[a-z]{3,4}")


@dataclass(frozen=True)
class Line:
    label: str
    before: str
    after: str


class Entry:
    """One change, as the pages show it."""

    def __init__(self, change: Change, kept_from: Collection[str] = ()) -> None:
        self.change = change
        self._kept_from = kept_from
        kind = registry.kinds.get(change.kind)
        self._words = kind.words if kind else {}
        self.kind_name = str(kind.name) if kind else change.kind.rpartition(".")[2]
        try:
            self._model: type[models.Model] | None = apps.get_model(change.kind)
        except (LookupError, ValueError):
            # A kind that an earlier version had.
            self._model = None

    @property
    def address(self) -> str:
        """The history of the record alone; '' for a kind that has none."""
        if self.change.kind not in registry.kinds:
            return ""
        return reverse("studio:history-of", args=[self.change.kind, self.change.object_id])

    @property
    def lines(self) -> list[Line]:
        """What differs, in the order in which it was written; a side that had no such value stays empty."""
        before, after = self.change.before, self.change.after
        return [
            Line(
                self._label(name),
                self._value(name, before[name]) if name in before else "",
                self._value(name, after[name]) if name in after else "",
            )
            for name in dict.fromkeys([*before, *after])
            if name not in self._kept_from and not (_is_key(before.get(name)) or _is_key(after.get(name)))
        ]

    def _field(self, name: str) -> Any:
        try:
            return self._model._meta.get_field(name) if self._model else None
        except FieldDoesNotExist:
            return None

    def _label(self, name: str) -> str:
        plain = re.sub(r" ml$", " (mL)", name.replace("_", " "))
        return str(getattr(self._field(name), "verbose_name", plain))

    def _value(self, name: str, value: Any) -> str:
        if name in self._words:
            return self._words[name](value)
        field = self._field(name)
        if isinstance(value, str | int) and not isinstance(value, bool):
            choices = dict(getattr(field, "flatchoices", []))
            if value in choices:
                return str(choices[value])
            if isinstance(value, str) and (isinstance(field, models.DateField) or MOMENT.fullmatch(value)):
                return _moment(value)
            if field is None and isinstance(value, str) and CODE.fullmatch(value):
                return value.replace("_", " ")
        return in_words(value)


def _is_key(value: Any) -> bool:
    """Whether it is for programs alone (of a record, or of a stored file): a person can do nothing with it."""
    return isinstance(value, str) and KEY.fullmatch(value) is not None


def _moment(value: str) -> str:
    try:
        moment = parse_datetime(value)
    except ValueError:
        return value
    if moment is not None and timezone.is_aware(moment):
        return date_format(timezone.localtime(moment), "j F Y, H:i")
    day = parse_date(value[:10])
    return date_format(day, "j F Y") if day else value


def in_words(value: Any) -> str:
    """A value of a history row without brackets or quotes; unknown is said."""
    if value is None:
        return _("not known")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, list):
        return "; ".join(in_words(v) for v in value) or _("none")
    if isinstance(value, dict):
        return ", ".join(f"{k.replace('_', ' ')} {in_words(v)}" for k, v in value.items()) or _("none")
    return str(value) if value != "" else _("left empty")
