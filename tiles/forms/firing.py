"""Planning a firing, taking it on, and loading it."""

from typing import Any

from django import forms
from django.db.models import Q
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.calc.cones import Cone
from inventory.fields import ConeFormField
from inventory.sentences import cone_words
from studio.pages import VersionedForm
from tiles.actions.stops import findings_for_body
from tiles.calc.findings import is_made_for, unlikely_for_kind
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.forms.fields import day
from tiles.models import ClayBody, Firing, Kiln, Schedule
from tiles.planning import FoundSentence, in_words

FIELDS = ("kiln", "kind", "target_cone", "atmosphere", "planned_on", "schedule", "remark")


class FiringForm(VersionedForm):
    """A firing as planned. A cone that is unlikely for the load is asked about once more, whatever its writer says."""

    kiln = forms.ModelChoiceField(Kiln.objects.none(), label=_("Kiln"), empty_label=_("choose"))
    kind = forms.ChoiceField(
        label=_("Kind"), choices=Firing.Kind.choices, initial=Firing.Kind.GLAZE, widget=forms.RadioSelect
    )
    target_cone = ConeFormField(label=_("Target cone"))
    atmosphere = forms.ChoiceField(
        label=_("Atmosphere"),
        choices=Firing.Atmosphere.choices,
        initial=Firing.Atmosphere.OXIDATION,
        widget=forms.RadioSelect,
    )
    plan_from = forms.ModelChoiceField(Schedule.objects.none(), label=_("Schedule"), required=False)
    planned_on = forms.DateField(label=_("Planned for"), required=False, widget=day())
    schedule = forms.CharField(
        label=_("Schedule in words"),
        required=False,
        help_text=_("What the schedule above does not say, or all of it: ramps, holds, how it cools."),
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    remark = forms.CharField(label=_("Remark"), required=False, widget=forms.Textarea(attrs={"rows": 2}))

    def __init__(self, *args: Any, firing: Firing | None = None, **kwargs: Any) -> None:
        self.firing = firing
        self.asks_again: FoundSentence | None = None
        self.asked_cone: Cone | None = None
        if firing:
            kwargs["initial"] = {"version": firing.version, **{f: getattr(firing, f) for f in FIELDS}}
        super().__init__(*args, **kwargs)
        present = Q(pk=firing.kiln_id) if firing else Q()
        self.fields["kiln"].queryset = Kiln.objects.filter(Q(archived_at=None) | present)
        chosen: Any = self.fields["plan_from"]
        chosen.queryset = Schedule.objects.filter(archived_at=None)
        chosen.empty_label = (
            _now("as it is") if firing and firing.plan else _now("none of those that are kept")
        )
        if firing and firing.plan:
            chosen.help_text = _now(
                "It was planned with %(name)s. Choose one to take its segments over anew."
            ) % {"name": firing.plan_name or _now("segments of its own")}
        self.fields["target_cone"].help_text = _now(
            "A nought in front makes it cooler: %(six)s, %(oh_six)s."
        ) % {
            "six": cone_words(Cone.parse("6")),
            "oh_six": cone_words(Cone.parse("06")),
        }

    def clean(self) -> dict[str, Any]:
        given = super().clean() or self.cleaned_data
        if {"kiln", "kind", "target_cone"} <= set(given):
            self._ask_again(given)
        return given

    def _ask_again(self, given: dict[str, Any]) -> None:
        cone = given["target_cone"]
        same = self.firing and (cone, given["kind"]) == (self.firing.target_cone, self.firing.kind)
        # The answer names the cone, so that a yes to one is no yes to the next.
        if same or self.data.get("confirmed_cone") == cone.code:
            return
        planned = Firing(kiln=given["kiln"], kind=given["kind"], target_cone=cone)
        self.asks_again = unlikely_cone(planned, self._bodies(given["kind"]))
        if self.asks_again:
            self.asked_cone = cone
            self.add_error("target_cone", _now("Change it, or say above that it is meant."))

    def _bodies(self, kind: str) -> list[ClayBody | None]:
        """The clay that the kiln is loaded with; before anything is loaded, the clay that the studio uses."""
        if self.firing and self.firing.tile_firings.exists():
            bodies = ClayBody.objects.filter(tiles__tile_firings__firing=self.firing).distinct()
        else:
            bodies = ClayBody.objects.filter(archived_at=None)
        if kind in GLAZE_FIRINGS:
            bodies = bodies.exclude(cone_low=None)
        return [*bodies] or [None]

    def values(self) -> dict[str, Any]:
        given = {field: self.cleaned_data[field] for field in FIELDS}
        chosen = self.cleaned_data["plan_from"]
        return {**given, "plan_from": chosen} if chosen else given


def unlikely_cone(firing: Firing, bodies: list[ClayBody | None]) -> FoundSentence | None:
    """The question 'is it really 06?': every one of `bodies` would rather see its twin, or the kind itself would."""
    found = [
        next((f for f in findings_for_body(firing, body) if f.code == "unlikely_cone"), None)
        for body in bodies
    ]
    if found and all(found) and found[0]:
        return in_words(found[0])
    cone, kind = firing.target_cone, firing.kind
    if any(b and is_made_for(cone, kind, b.cone_low, b.cone_high, b.bisque_cone) for b in bodies):
        return None
    odd = unlikely_for_kind(cone, kind)
    return in_words(odd) if odd else None


def position_choices(firing: Firing, *more: str) -> list[tuple[str, Any]]:
    """The kiln's positions, and any that a row holds though the kiln has lost it."""
    known = dict.fromkeys([*firing.kiln.positions, *filter(None, more)])
    return [("", _("not noted")), *((name, name) for name in known)]
