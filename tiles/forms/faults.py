"""Faults seen in one look: each is tapped, then where on the tile it is, by a tap or in words."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from tiles.fault_places import PLACES
from tiles.models import OutcomeFault

COMMON = ("crazing", "crawling", "pinholing", "blistering", "running", "shivering", "underfired")


class FaultFields(forms.Form):
    """To be mixed into a form: of every fault whether it is seen, at which places, and where else in words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for kind, label in OutcomeFault.Kind.choices:
            self.fields[f"fault_{kind}"] = forms.BooleanField(label=label, required=False)
            self.fields[f"at_{kind}"] = forms.MultipleChoiceField(
                label=_("%(fault)s: where on it") % {"fault": label},
                choices=[*PLACES.items()],
                required=False,
                widget=forms.CheckboxSelectMultiple,
            )
            self.fields[f"where_{kind}"] = forms.CharField(
                label=_("%(fault)s: where") % {"fault": label},
                max_length=80,
                required=False,
                widget=forms.TextInput(attrs={"placeholder": _("where")}),
            )

    def _row(self, kind: str) -> tuple[forms.BoundField, forms.BoundField, forms.BoundField]:
        return self[f"fault_{kind}"], self[f"at_{kind}"], self[f"where_{kind}"]

    @property
    def common_faults(self) -> list[tuple[forms.BoundField, ...]]:
        return [self._row(kind) for kind in COMMON]

    @property
    def other_faults(self) -> list[tuple[forms.BoundField, ...]]:
        return [self._row(kind) for kind in OutcomeFault.Kind.values if kind not in COMMON]

    @property
    def other_is_seen(self) -> bool:
        """One of the faults behind the fold is ticked, so the fold stands open."""
        return any(seen.value() or seen.errors for seen, *_rest in self.other_faults)

    def faults(self) -> list[dict[str, str]]:
        """What `record_outcome` takes: one entry for each place, or one without any."""
        found = []
        for kind in OutcomeFault.Kind.values:
            if self.cleaned_data[f"fault_{kind}"]:
                said = [*self.cleaned_data[f"at_{kind}"], self.cleaned_data[f"where_{kind}"].strip()]
                places = dict.fromkeys(place for place in said if place) or {"": None}
                found += [{"kind": kind, "where": place} for place in places]
        return found
