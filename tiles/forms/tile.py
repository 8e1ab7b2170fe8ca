"""What is known of a tile beside its layers."""

from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from inventory.models import Place
from studio.pages import VersionedForm
from tiles.forms.fields import day
from tiles.models import ClayBody, Tile
from tiles.sentences import VISIBILITY

FIELDS = ("body", "form", "made_on", "place", "visibility", "remark", "state")


class TileForm(VersionedForm):
    body = forms.ModelChoiceField(
        ClayBody.objects.none(), label=_("Clay body"), required=False, empty_label=_("not known")
    )
    form = forms.CharField(label=_("Form"), max_length=40, required=False)
    made_on = forms.DateField(label=_("Made on"), required=False, widget=day())
    place = forms.ModelChoiceField(
        Place.objects.none(), label=_("Where it hangs"), required=False, empty_label=_("not noted")
    )
    visibility = forms.ChoiceField(
        label=_("Seen by"),
        choices=[(value, f"{label}: {VISIBILITY[value]}") for value, label in Tile.Visibility.choices],
        widget=forms.RadioSelect,
    )
    remark = forms.CharField(label=_("Remark"), required=False, widget=forms.Textarea(attrs={"rows": 3}))
    state = forms.ChoiceField(label=_("State"), widget=forms.RadioSelect)

    def __init__(self, *args: Any, tile: Tile, states: list[str], **kwargs: Any) -> None:
        initial = {field: getattr(tile, field) for field in FIELDS}
        super().__init__(*args, initial={"version": tile.version, **initial}, **kwargs)
        # What is archived stays a choice where it is the present one.
        self.fields["body"].queryset = ClayBody.objects.filter(Q(archived_at=None) | Q(pk=tile.body_id))
        self.fields["place"].queryset = Place.objects.filter(Q(archived_at=None) | Q(pk=tile.place_id))
        self.fields["state"].choices = [(state, Tile.State(state).label) for state in states]

    def values(self) -> dict[str, Any]:
        return {field: self.cleaned_data[field] for field in FIELDS if field in self.changed_data}
