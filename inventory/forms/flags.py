from datetime import datetime
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import DayField, FillAtHand, end_of, start_of
from inventory.models import Flag
from studio.photo_fields import AnyFile, AnyFiles


class PhotosOfIt(forms.Form):
    """Photos by either button; `chosen_photos` are the files, whichever they came by."""

    camera = AnyFile(camera=True, label=_("Take a photo"))
    photo = AnyFiles(label=_("Or choose photos"))

    @property
    def chosen_photos(self) -> list[Any]:
        taken = self.cleaned_data.get("camera")
        return [*([taken] if taken is not None else []), *self.cleaned_data.get("photo", [])]

    def choose_again(self) -> None:
        """A page that comes back cannot keep chosen files: say so instead of losing them silently."""
        if self.chosen_photos and "photo" not in self.errors:
            self.add_error("photo", _("Choose the photos again: a page that comes back cannot keep them."))


class FlagPhotoForm(PhotosOfIt):
    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        if not self.chosen_photos and not self.errors:
            self.add_error("photo", _("Take or choose a photo first."))
        return found


class ReachForm(FillAtHand):
    """What a flag would touch, asked before it is raised."""

    kind = forms.ChoiceField(choices=Flag.Kind.choices, required=False)
    since = DayField(required=False)

    def since_moment(self) -> datetime | None:
        day = self.cleaned_data.get("since")
        return start_of(day) if day else None


class FlagForm(PhotosOfIt, ReachForm):
    """What is wrong, as one press, a few words and what a camera sees."""

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

    field_order = ["kind", "note", "since", "camera", "photo"]


class NoteForm(forms.Form):
    text = forms.CharField(
        label=_("What was seen"), widget=forms.Textarea(attrs={"rows": 3}), max_length=2000
    )


class WithdrawFlagForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=500, required=False)


class ClearFlagForm(forms.Form):
    """How it ended. Only *mistaken* lifts what the flag touched, so each choice says what it does.

    What came with a transfer is not mistaken by itself: that is said of the bucket that it came from.
    """

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
    outcome = forms.ChoiceField(
        label=_("Outcome"),
        choices=OUTCOMES,
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose what came of it.")},
    )
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

    def __init__(self, *args: Any, is_carried: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if is_carried:
            self.fields["outcome"].choices = self.OUTCOMES[1:]
            self.fields["note"].help_text = ""

    def outcome_values(self) -> dict[str, Any]:
        day = self.cleaned_data["put_right_at"]
        return {
            "outcome": self.cleaned_data["outcome"],
            "note": self.cleaned_data["note"],
            "put_right_at": end_of(day) if day else None,
        }
