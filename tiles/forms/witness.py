"""Witness cones as they are read: a row for each cone."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeFormField
from tiles.calc.witness import clock_to_degrees
from tiles.cone_drawings import SHOWN, BentCone, bent_cones
from tiles.forms.firing import position_choices
from tiles.models import Firing, WitnessCone
from tiles.sentences import bend_words

SPARE_ROWS = 3
CONES = bent_cones()
_CLOCK = re.compile(r"([0-9]{1,2})(?::([0-5][0-9])|[.,]([0-9]{1,2})|(½))?\s*(?:o'?clock)?", re.IGNORECASE)


class ClockField(forms.CharField):
    """How far a cone has bent, as the hand of a clock: 12 stands, 6 is down. Cleans to degrees."""

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if not text:
            return None
        found = _CLOCK.fullmatch(text.replace("’", "'"))
        try:
            if found is None:
                raise ValueError(text)
            hours = int(found[1]) + int(found[2] or 0) / 60 + float(f"0.{found[3] or 0}")
            degrees = clock_to_degrees(hours + (0.5 if found[4] else 0))
        except ValueError as error:
            raise ValidationError(
                _("Write it as on a clock, such as 4 or 4:30; 12 stands, 6 is down.")
            ) from error
        if degrees > 120:
            raise ValidationError(_("A cone bends from 12 o'clock over 3 towards 6, and lies at 8 at most."))
        return degrees


class WitnessRow(forms.Form):
    """One witness cone."""

    position = forms.ChoiceField(label=_("Position"), required=False)
    cone = ConeFormField(label=_("Cone"), required=False)
    cone_type = forms.ChoiceField(
        label=_("Type"), choices=WitnessCone.ConeType.choices, initial=WitnessCone.ConeType.SELF_SUPPORTING
    )
    bend_degrees = forms.IntegerField(
        label=_("Bend (°)"),
        required=False,
        min_value=0,
        max_value=120,
        error_messages={
            "max_value": _("A cone bends to about 90° when it is down; nothing over 120° is read.")
        },
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 4, "autocomplete": "off"}),
    )
    clock = ClockField(
        label=_("Or as on a clock"),
        required=False,
        widget=forms.TextInput(attrs={"size": 6, "autocomplete": "off"}),
    )

    looks_like = forms.TypedChoiceField(
        label=_("Looks like"), required=False, coerce=int, empty_value=None, widget=forms.RadioSelect
    )
    field_order = ("position", "cone", "cone_type", "looks_like", "bend_degrees", "clock")
    ways = ("bend_degrees", "clock", "looks_like")

    def __init__(self, *args: Any, firing: Firing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["looks_like"].choices = [
            ("", _("none of them, or not read")),
            *((cone.degrees, f"{bend_words(cone.degrees)} ({cone.hour})") for cone in CONES),
        ]
        choices = position_choices(firing, self.initial.get("position", ""))
        self.fields["position"].choices = choices

    @property
    def is_unread(self) -> bool:
        """A cone that is written down without its bend, or a row that needs another look."""
        written = bool(self.initial.get("cone")) and self.initial.get("bend_degrees") is None
        return written or bool(self.is_bound and self.errors)

    def drawn(self) -> list[tuple[Any, BentCone | None]]:
        """Each choice of `looks_like` with its drawing; the first has none."""
        return [*zip(self["looks_like"], [None, *CONES], strict=True)]

    def clean(self) -> dict[str, Any]:
        given = super().clean() or self.cleaned_data
        # What was left as it stood says nothing; of what is said anew all must agree.
        said = {
            way: given[way] for way in self.ways if way in self.changed_data and given.get(way) is not None
        }
        if len(set(said.values())) > 1:
            one, other = list(dict.fromkeys(said.values()))[:2]
            self.add_error(
                next(way for way in reversed(self.ways) if way in said),
                _now("That is %(clock)s°, not %(bend)s°. Give one of them.") % {"clock": other, "bend": one},
            )
        elif said:
            given["bend_degrees"] = next(iter(said.values()))
        elif "looks_like" in self.changed_data and "bend_degrees" not in self.changed_data:
            given["bend_degrees"] = None  # a drawing was taken back
        if "cone" in given and given["cone"] is None and self.has_changed() and not given.get("DELETE"):
            self.add_error("cone", _now("Say which cone stood there, or take the row away."))
        return given


class WitnessRows(forms.BaseFormSet):
    """All the witness cones of a firing, with spare rows."""

    def clean(self) -> None:
        seen = set()
        for form in self.filled():
            row = form.cleaned_data
            cone = (row.get("position"), row.get("cone"), row.get("cone_type"))
            if cone in seen:
                form.add_error("cone", _now("This cone stands twice in one place. Keep one of the rows."))
            seen.add(cone)

    def filled(self) -> list[WitnessRow]:
        """The rows that say something and are to stay."""
        forms_ = [f for f in self.forms if f.cleaned_data and f.cleaned_data.get("cone")]
        return [f for f in forms_ if f not in self.deleted_forms]

    def cones(self) -> list[dict[str, Any]]:
        """What `set_witness_cones` takes."""
        kept = ("position", "cone", "cone_type", "bend_degrees")
        return [{name: form.cleaned_data[name] for name in kept} for form in self.filled()]


def witness_rows(firing: Firing, data: Any = None) -> Any:
    """The rows of `firing` as a form."""
    rows = forms.formset_factory(
        WitnessRow, formset=WitnessRows, extra=SPARE_ROWS, can_delete=True, max_num=60, absolute_max=80
    )
    stored = [
        {
            "position": w.position,
            "cone": w.cone,
            "cone_type": w.cone_type,
            "bend_degrees": w.bend_degrees,
            "looks_like": w.bend_degrees if w.bend_degrees in SHOWN else "",
        }
        for w in firing.witness_cones.all()
    ]
    return rows(data, prefix="w", initial=stored, form_kwargs={"firing": firing})
