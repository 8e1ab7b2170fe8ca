"""One look at a fired tile, with its photo."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models import Opacity, Surface
from studio.pages import VersionedForm
from tiles.forms.fields import Measure, day
from tiles.forms.photo import PhotoFields
from tiles.models import Combination, Outcome, OutcomeFault, Tile, TileZone
from tiles.sentences import REGION_WORDS, zone_words

NOT_SAID = ("", _("not said"))


def zone_choices(tile: Tile) -> list[tuple[str, str]]:
    """The whole tile, and each part that its layers make, once for each set of glazes."""
    found: dict[str, str] = {"whole:": str(Outcome.Zone.WHOLE.label)}
    zones = tile.zones.prefetch_related("combination__parts__glaze")
    for zone in zones:
        if zone.kind != TileZone.Kind.WHOLE:
            regions = ", ".join(str(REGION_WORDS[region]) for region in zone.regions)
            words = f"{zone_words(zone.kind)}: {zone.combination} ({regions})"
            found.setdefault(f"{zone.kind}:{zone.combination_id}", words)
    return list(found.items())


class OutcomeForm(PhotoFields, VersionedForm):
    """Faults are two fields each: whether it is seen, and where."""

    zone = forms.ChoiceField(label=_("Which part"), widget=forms.RadioSelect)
    looked_on = forms.DateField(label=_("Looked at on"), initial=timezone.localdate, widget=day())
    surface = forms.ChoiceField(
        label=_("Surface"), choices=[*Surface.choices, NOT_SAID], required=False, widget=forms.RadioSelect
    )
    opacity = forms.ChoiceField(
        label=_("Opacity"), choices=[*Opacity.choices, NOT_SAID], required=False, widget=forms.RadioSelect
    )
    movement_mm = Measure(label=_("Moved down (mm)"), help_text=_("0 when it stayed where it was put"))
    colour = forms.CharField(label=_("Colour in words"), max_length=120, required=False)
    verdict = forms.ChoiceField(
        label=_("Verdict"),
        choices=[*Outcome.Verdict.choices, NOT_SAID],
        required=False,
        widget=forms.RadioSelect,
    )
    damage = forms.CharField(
        label=_("Damage"), max_length=160, required=False, help_text=_("Such as: ran onto the shelf.")
    )
    remark = forms.CharField(label=_("Remark"), required=False, widget=forms.Textarea(attrs={"rows": 3}))

    FIRST = ("zone", "surface", "opacity", "movement_mm")
    THEN = ("colour", "verdict", "damage", "remark", "camera", "photo", "caption", "looked_on")
    SAID = ("looked_on", "surface", "opacity", "movement_mm", "colour", "verdict", "damage", "remark")

    def __init__(self, *args: Any, tile: Tile, **kwargs: Any) -> None:
        super().__init__(*args, initial={"version": tile.version, "zone": "whole:"}, **kwargs)
        self.fields["zone"].choices = zone_choices(tile)
        for kind, label in OutcomeFault.Kind.choices:
            self.fields[f"fault_{kind}"] = forms.BooleanField(label=label, required=False)
            self.fields[f"where_{kind}"] = forms.CharField(
                label=_("%(fault)s: where") % {"fault": label},
                max_length=80,
                required=False,
                widget=forms.TextInput(attrs={"placeholder": _("where")}),
            )

    @property
    def first(self) -> list[forms.BoundField]:
        return [self[name] for name in self.FIRST]

    @property
    def then(self) -> list[forms.BoundField]:
        return [self[name] for name in self.THEN]

    @property
    def fault_rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        return [(self[f"fault_{kind}"], self[f"where_{kind}"]) for kind in OutcomeFault.Kind.values]

    def look(self) -> dict[str, Any]:
        """The fields of `record_outcome`."""
        data = self.cleaned_data
        kind, _colon, combination = data["zone"].partition(":")
        faults = [
            {"kind": fault, "where": data[f"where_{fault}"].strip()}
            for fault in OutcomeFault.Kind.values
            if data[f"fault_{fault}"]
        ]
        return {
            **{field: data[field] for field in self.SAID},
            "zone": kind,
            "combination": Combination.objects.get(pk=combination) if combination else None,
            "faults": faults,
            "version": data["version"],
        }
