"""Questions that several forms of the wall ask alike."""

from typing import Any

from django import forms
from django.utils import timezone


def day() -> forms.DateInput:
    return forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")


class Measure(forms.DecimalField):
    """A measured figure; 2,5 is read as 2.5."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off", "size": 6})
        super().__init__(required=False, widget=widget, **kwargs)

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class Moment(forms.DateTimeField):
    """A moment to the minute, in the studio's own time."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")
        super().__init__(widget=widget, **kwargs)

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Compared to the minute, so that an untouched field does not cut off the seconds."""
        shown = timezone.localtime(initial).strftime("%Y-%m-%dT%H:%M") if initial else ""
        return shown != (data or "")
