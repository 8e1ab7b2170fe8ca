from datetime import datetime
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import DayField, FillAtHand, end_of, start_of
from inventory.models import Flag


class FlagForm(FillAtHand):
    """What is wrong, as one press and a few words."""

    kind = forms.ChoiceField(
        label=_("What is wrong?"), choices=Flag.Kind.choices, widget=forms.RadioSelect(attrs={"class": "big"})
    )
    note = forms.CharField(
        label=_("What was seen"), widget=forms.Textarea(attrs={"rows": 3}), required=False, max_length=2000
    )
    since = DayField(
        label=_("Since"),
        help_text=_("Leave it empty when it is not known: the flag then counts for all that came out of it."),
        required=False,
    )

    def since_moment(self) -> datetime | None:
        day = self.cleaned_data["since"]
        return start_of(day) if day else None


class NoteForm(forms.Form):
    text = forms.CharField(
        label=_("What was seen"), widget=forms.Textarea(attrs={"rows": 3}), max_length=2000
    )


class WithdrawFlagForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=500, required=False)


class ClearFlagForm(forms.Form):
    """How it ended. Only *mistaken* lifts what the flag touched, so each choice says what it does."""

    OUTCOMES = [
        (Flag.Outcome.MISTAKEN, _("Mistaken. It never was so; every tile that it touched is lifted.")),
        (
            Flag.Outcome.PUT_RIGHT,
            _("Put right. It was so until a day; tiles glazed out of it until then stay touched."),
        ),
        (
            Flag.Outcome.EMPTIED,
            _("Emptied. It was so to the end; the fill is ended and all its tiles stay touched."),
        ),
    ]
    outcome = forms.ChoiceField(label=_("Outcome"), choices=OUTCOMES, widget=forms.RadioSelect)
    put_right_at = DayField(
        label=_("Put right on"), help_text=_("Only when it was put right. Empty: now."), required=False
    )
    note = forms.CharField(
        label=_("What was done, or how you know"),
        help_text=_("Needed when it was mistaken."),
        widget=forms.Textarea(attrs={"rows": 3}),
        required=False,
        max_length=2000,
    )

    def outcome_values(self) -> dict[str, Any]:
        day = self.cleaned_data["put_right_at"]
        return {
            "outcome": self.cleaned_data["outcome"],
            "note": self.cleaned_data["note"],
            "put_right_at": end_of(day) if day else None,
        }
