"""One look at a tile that comes out of the kiln, made of taps; and what was tapped before the phone slept."""

from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.models import Opacity, Surface
from tiles.forms.faults import FaultFields
from tiles.forms.fields import Measure
from tiles.forms.outcome import NOT_SAID, zone_choices, zone_of, zone_regions
from tiles.models import Outcome, Tile

MOVED = [("0", _("stayed")), *((mm, f"{mm} mm") for mm in ("1", "2", "3", "5", "10"))]


class LookForm(FaultFields):
    """The verdict is the button that sends it. `knows` is the look of somebody else that the page shows."""

    knows = forms.CharField(widget=forms.HiddenInput, required=False)
    look = forms.UUIDField(widget=forms.HiddenInput, required=False)
    zone = forms.ChoiceField(label=_("Which part"), widget=forms.RadioSelect)
    surface = forms.ChoiceField(
        label=_("Surface"), choices=[*Surface.choices, NOT_SAID], required=False, widget=forms.RadioSelect
    )
    opacity = forms.ChoiceField(
        label=_("Opacity"), choices=[*Opacity.choices, NOT_SAID], required=False, widget=forms.RadioSelect
    )
    moved = forms.ChoiceField(label=_("Moved down"), choices=MOVED, required=False, widget=forms.RadioSelect)
    movement_mm = Measure(label=_("Moved down another way (mm)"), min_value=0, max_value=300)
    colour = forms.CharField(label=_("Colour in words"), max_length=120, required=False)
    damage = forms.CharField(
        label=_("Damage"), max_length=160, required=False, help_text=_("Such as: ran onto the shelf.")
    )
    remark = forms.CharField(label=_("Remark"), required=False, widget=forms.Textarea(attrs={"rows": 3}))
    verdict = forms.ChoiceField(
        label=_("Verdict"), choices=[*Outcome.Verdict.choices, NOT_SAID], required=False
    )

    SAID = ("surface", "opacity", "verdict", "colour", "damage", "remark")

    def __init__(self, *args: Any, tile: Tile, draft: dict[str, list[str]] | None = None, **kwargs: Any):
        super().__init__(*args, initial={"zone": "whole:"}, **kwargs)
        self.fields["zone"].choices = zone_choices(tile)
        self.regions = zone_regions(tile)
        for name, values in (draft or {}).items():
            if name in self.fields:
                many = isinstance(self.fields[name], forms.MultipleChoiceField)
                self.initial[name] = values if many else (values or [""])[-1]

    @property
    def is_divided(self) -> bool:
        """Whether the tile has parts that can be looked at on their own."""
        return len(self.fields["zone"].choices) > 1

    @property
    def first(self) -> list[forms.BoundField]:
        return [self["surface"], self["opacity"], self["moved"]]

    @property
    def folded(self) -> list[forms.BoundField]:
        return [self[name] for name in ("colour", "movement_mm", "damage", "remark")]

    @property
    def more_is_said(self) -> bool:
        return any(field.value() or field.errors for field in self.folded)

    def fields_of_look(self) -> dict[str, Any]:
        """The fields of `keep_look`; a figure that was typed stands before one that was tapped."""
        data = self.cleaned_data
        tapped = Decimal(data["moved"]) if data["moved"] else None
        typed = data["movement_mm"]
        return {
            **{field: data[field] for field in self.SAID},
            **zone_of(data["zone"]),
            "movement_mm": tapped if typed is None else typed,
            "faults": self.faults(),
            "knows": data["knows"],
            "id": data["look"],
        }
