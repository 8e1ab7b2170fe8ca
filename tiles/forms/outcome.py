"""One look at a fired tile, with its photo."""

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models import Opacity, Surface
from studio.pages import VersionedForm
from tiles.forms.faults import FaultFields
from tiles.forms.fields import Measure, day
from tiles.forms.photo import PhotoFields
from tiles.models import Combination, Outcome, Tile, TileZone
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


def zone_regions(tile: Tile) -> list[tuple[int, str]]:
    """Where a tap on the drawn front of the tile leads: the place of a choice of `zone_choices`, and its region."""
    order = [value for value, _words in zone_choices(tile)]
    zones = tile.zones.exclude(kind=TileZone.Kind.WHOLE)
    found = [(order.index(f"{z.kind}:{z.combination_id}"), region) for z in zones for region in z.regions]
    return [(place, region) for place, region in found if region != "inside"]


def zone_of(chosen: str) -> dict[str, Any]:
    """A choice of `zone_choices` as fields of `record_outcome`."""
    kind, _colon, combination = chosen.partition(":")
    found = Combination.objects.get(pk=combination) if combination else None
    return {"zone": kind, "combination": found}


class OutcomeForm(PhotoFields, FaultFields, VersionedForm):
    """Everything that can be said of a tile in one look."""

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

    FIRST = ("surface", "opacity", "movement_mm")
    THEN = ("colour", "verdict", "damage", "remark", "camera", "photo", "caption", "looked_on")
    SAID = ("looked_on", "surface", "opacity", "movement_mm", "colour", "verdict", "damage", "remark")

    def __init__(self, *args: Any, tile: Tile, **kwargs: Any) -> None:
        super().__init__(*args, initial={"version": tile.version, "zone": "whole:"}, **kwargs)
        self.fields["zone"].choices = zone_choices(tile)
        self.regions = zone_regions(tile)

    @property
    def is_divided(self) -> bool:
        """Whether the tile has parts that can be looked at on their own."""
        return len(self.fields["zone"].choices) > 1

    @property
    def first(self) -> list[forms.BoundField]:
        return [self[name] for name in self.FIRST]

    @property
    def then(self) -> list[forms.BoundField]:
        return [self[name] for name in self.THEN]

    def look(self) -> dict[str, Any]:
        """The fields of `record_outcome`."""
        data = self.cleaned_data
        return {
            **{field: data[field] for field in self.SAID},
            **zone_of(data["zone"]),
            "faults": self.faults(),
            "version": data["version"],
        }


class ReasonForm(forms.Form):
    """Why a look was a mistake."""

    reason = forms.CharField(
        label=_("What was wrong"), max_length=200, help_text=_("Such as: that was tile 45.")
    )
