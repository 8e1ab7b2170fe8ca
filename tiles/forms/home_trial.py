"""A trial at home: begun, ended, and one photo more."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import DayField
from studio.photo_fields import AnyFile
from tiles.models import HomeTrial, HomeTrialPhoto

AGAIN = _("Choose the photo again: a page that comes back cannot keep it.")


class PhotoField(forms.Form):
    photo = AnyFile(label=_("A photo"), camera=False)

    def choose_again(self) -> None:
        if getattr(self, "cleaned_data", {}).get("photo") is not None:
            self.add_error("photo", AGAIN)

    def files_sent(self) -> list[Any]:
        photo = self.cleaned_data.get("photo")
        return [] if photo is None else [photo]


class BeginForm(PhotoField):
    kind = forms.ChoiceField(label=_("What"), choices=HomeTrial.Kind.choices, widget=forms.RadioSelect)
    done = forms.CharField(
        label=_("How"), max_length=200, help_text=_("Such as: vinegar, three days, half covered.")
    )
    begun_on = DayField(label=_("Begun on"), initial=timezone.localdate)

    field_order = ("kind", "done", "begun_on", "photo")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["photo"].label = _("A photo before")

    def values(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("kind", "done", "begun_on")}


class EndForm(PhotoField):
    result = forms.ChoiceField(
        label=_("Result"),
        choices=[row for row in HomeTrial.Result.choices if row[0]],
        widget=forms.RadioSelect,
    )
    seen = forms.CharField(
        label=_("What was seen"),
        max_length=200,
        required=False,
        help_text=_("Such as: the covered half turned dull."),
    )
    ended_on = DayField(label=_("Ended on"), initial=timezone.localdate)

    field_order = ("result", "seen", "ended_on", "photo")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["photo"].label = _("A photo after")

    def values(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("result", "seen", "ended_on")}


class TrialPhotoForm(PhotoField):
    stage = forms.ChoiceField(
        label=_("Taken"), choices=HomeTrialPhoto.Stage.choices, widget=forms.RadioSelect
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("photo") is None and not self.errors:
            self.add_error("photo", _("Take or choose a photo first."))
        return data


class TakeBackForm(forms.Form):
    reason = forms.CharField(label=_("Why"), max_length=200)
