"""Many photos at once."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from studio.photo_fields import AnyFiles

MOST_AT_ONCE = 60


class LoosePhotosForm(forms.Form):
    photos = AnyFiles(label=_("Choose the photos"))

    def clean_photos(self) -> list[Any]:
        chosen = self.cleaned_data["photos"]
        if not chosen:
            raise forms.ValidationError(_("Choose at least one photo first."))
        if len(chosen) > MOST_AT_ONCE:
            said = _("Send at most %(most)s photos at once, then the others.")
            raise forms.ValidationError(said % {"most": MOST_AT_ONCE})
        return chosen
