"""A photo out of the camera or out of the phone's album. What is in the file is judged by studio/photos."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from studio.photo_fields import AnyFile
from tiles.models import Photo


class PhotoFields(forms.Form):
    """To be mixed into a form; `chosen_photo` is the file, whichever button it came by."""

    camera = AnyFile(camera=True, label=_("Take a photo"))
    photo = AnyFile(label=_("Or choose a photo"))
    caption = forms.CharField(label=_("Caption"), max_length=160, required=False)

    @property
    def chosen_photo(self) -> UploadedFile | None:
        chosen = (self.cleaned_data.get("camera"), self.cleaned_data.get("photo"))
        return next((file for file in chosen if file is not None), None)

    def choose_again(self) -> None:
        """A page that comes back cannot keep a chosen file: say so instead of losing it silently."""
        if self.chosen_photo is not None:
            self.add_error("photo", _("Choose the photo again: a page that comes back cannot keep it."))


class PhotoForm(PhotoFields):
    stage = forms.ChoiceField(
        label=_("It shows the tile"), choices=[("", _("as it is now")), *Photo.Stage.choices], required=False
    )

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.chosen_photo is None and not self.errors:
            self.add_error("photo", _("Take or choose a photo first."))
        return data
