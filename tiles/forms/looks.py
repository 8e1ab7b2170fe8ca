"""Looking again for crazing."""

from django import forms
from django.utils.translation import gettext_lazy as _

from tiles.fault_places import PLACES


class LookAgainForm(forms.Form):
    """Where crazing is seen now, by taps or in words; nothing said is 'somewhere'."""

    at = forms.MultipleChoiceField(
        label=_("Where is it crazed?"),
        choices=[*PLACES.items()],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    where = forms.CharField(label=_("Or in words"), max_length=80, required=False)

    def places(self) -> list[str]:
        said = [*self.cleaned_data["at"], self.cleaned_data["where"].strip()]
        return [place for place in dict.fromkeys(said) if place] or [""]
