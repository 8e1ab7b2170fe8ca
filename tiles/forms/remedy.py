"""A trial of a remedy: planned with one tap, later the tile on which it is tried and whether it helped."""

from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from studio.pages import VersionedForm
from tiles.forms.numbers import number_field, tile_written
from tiles.models import OutcomeFault, RemedyTrial, Tile

LARGEST_FILE = 1_000_000  # bytes: what is refused is shown again, and no page should be longer


class PlanForm(forms.Form):
    fault = forms.ChoiceField(choices=OutcomeFault.Kind.choices, widget=forms.HiddenInput)
    cause = forms.CharField(max_length=40, widget=forms.HiddenInput)
    change = forms.CharField(max_length=200, required=False, label=_("What is changed"))
    reserve = forms.BooleanField(required=False)


class RemedyForm(VersionedForm):
    change = forms.CharField(label=_("What is changed"), max_length=200)
    new_tile = number_field(label=_("Tried on tile"), required=False)
    helped = forms.ChoiceField(
        label=_("Did it help?"), choices=RemedyTrial.Helped.choices, required=False, widget=forms.RadioSelect
    )

    def __init__(self, *args: Any, trial: RemedyTrial, person: Any, **kwargs: Any) -> None:
        initial = {
            "change": trial.change,
            "new_tile": trial.new_tile.number if trial.new_tile else "",
            "helped": trial.helped,
            "version": trial.version,
        }
        super().__init__(*args, initial=initial, **kwargs)
        self.person = person

    def clean_new_tile(self) -> Tile | None:
        return tile_written(self.person, self.cleaned_data["new_tile"])

    def values(self) -> dict[str, Any]:
        return {name: value for name, value in self.cleaned_data.items() if name != "version"}


class CausesForm(VersionedForm):
    """The table as text, or as a file that takes its place; either stays on the page when it is refused."""

    table = forms.CharField(
        label=_("The table"),
        required=False,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 16, "spellcheck": "false", "wrap": "off", "class": "sheet"}),
    )
    file = forms.FileField(label=_("or a CSV file"), required=False, help_text=_("as a spreadsheet saves it"))
    reason = forms.CharField(label=_("What was changed"), max_length=200)

    def clean(self) -> dict[str, Any]:
        sent: Any = super().clean()
        file = sent.get("file")
        if file is not None and file.size > LARGEST_FILE:
            self.add_error("file", _("This is too long for a table of causes. Is it the right file?"))
            return sent
        if file is not None:
            try:
                sent["table"] = file.read().decode("utf-8-sig")
            except UnicodeDecodeError:
                self.add_error(
                    "file", _("This file is no text in UTF-8. Save it as “CSV UTF-8” and send it again.")
                )
                return sent
            # Shown again if something in it is refused: a browser does not give a file back.
            self.data = QueryDict(mutable=True)
            shown = {"table": sent["table"], "reason": sent.get("reason", ""), "version": sent.get("version")}
            self.data.update({name: "" if value is None else str(value) for name, value in shown.items()})
        if not sent.get("table", "").strip():
            self.add_error("table", _("Write the table here, or choose a file."))
        return sent
