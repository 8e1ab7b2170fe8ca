"""What the shelf's forms are made of."""

import uuid
from copy import copy
from datetime import MAXYEAR, MINYEAR, date, datetime, time, timedelta
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from studio.pages import VersionedForm


class RecordForm(forms.ModelForm):
    """A record's fields with the version that they were read at; the writing is left to an action."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        if kwargs.get("instance"):
            # A copy: what was typed must not look as if it had been stored.
            kwargs["instance"] = copy(kwargs["instance"])
        super().__init__(*args, **kwargs)
        if self.instance._state.adding:
            del self.fields["version"]
        else:
            self.initial["version"] = self.instance.version

    def values(self) -> dict[str, Any]:
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}


class ArchiveForm(VersionedForm):
    """Putting a record away, with a word about why."""

    reason = forms.CharField(label=_("Why"), max_length=200, required=False)


class MomentField(forms.DateTimeField):
    """Day and time in the studio's own time zone, by the browser's own picker."""

    widget = forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")


class DayField(forms.DateField):
    widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")

    def to_python(self, value: Any) -> date | None:
        day = super().to_python(value)
        if day and day.year in (MINYEAR, MAXYEAR):  # its beginning or end may lie outside the calendar
            raise forms.ValidationError(_("Look at the year."), code="invalid")
        return day


def start_of(day: date) -> datetime:
    """Midnight at the beginning of a day, in the studio's time zone."""
    return timezone.make_aware(datetime.combine(day, time.min))


def end_of(day: date) -> datetime:
    """The last moment of a day that is over; of today, now."""
    if day == timezone.localdate():
        return timezone.now()
    return start_of(day + timedelta(days=1)) - timedelta(microseconds=1)


def this_minute() -> datetime:
    return timezone.localtime().replace(second=0, microsecond=0)


def decimal_input() -> forms.TextInput:
    """A text field that brings the number pad, and takes what a spinner would refuse silently."""
    return forms.TextInput(attrs={"inputmode": "decimal", "size": 8, "autocomplete": "off"})


def count_input() -> forms.TextInput:
    """The same for whole numbers."""
    return forms.TextInput(attrs={"inputmode": "numeric", "size": 8, "autocomplete": "off"})


class AmountField(forms.DecimalField):
    """A volume; point or comma."""

    widget = forms.TextInput

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("widget", decimal_input())
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class FillAtHand(forms.Form):
    """Carries the fill that the page showed: what is in a bucket may change while a phone sleeps."""

    fill = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def entry(self) -> dict[str, Any]:
        """What was typed, for the action that writes it; the fill is looked up by the view."""
        return {name: value for name, value in self.cleaned_data.items() if name != "fill"}


class OneEntry(FillAtHand):
    """An amount that must not count twice: the page gives the entry its id, so that sent twice it is one."""

    id = forms.UUIDField(label=_("Sent twice"), widget=forms.HiddenInput, initial=uuid.uuid4, required=False)

    def choose_again(self) -> None:
        """Sent again, a page whose id was used up is another entry."""
        if "id" in self.errors:
            self.data = {**self.data.dict(), "id": str(uuid.uuid4())}
