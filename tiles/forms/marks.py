"""Since which day the tiles of a flag are listed and marked, and which marks are taken back."""

from datetime import datetime

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import DayField, start_of


class SinceForm(forms.Form):
    since = DayField(
        label=_("Since"),
        required=False,
        help_text=_("Left empty: since the day that the flag itself names, or all that ever came out of it."),
    )

    def moment(self) -> datetime | None:
        day = self.cleaned_data.get("since")
        return start_of(day) if day else None


class UndoForm(forms.Form):
    batch = forms.UUIDField(widget=forms.HiddenInput)
