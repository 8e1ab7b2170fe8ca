"""What is done to a fill between its beginning and its end."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from inventory.fields import SpecificGravityFormField
from inventory.forms.parts import AmountField, FillAtHand, MomentField, OneEntry, count_input, this_minute
from inventory.forms.stock import level_field, volume_field
from inventory.models import Treatment
from studio.pages import VersionedForm


def _remark() -> forms.CharField:
    return forms.CharField(label=_("Remark"), max_length=200, required=False)


def _tool() -> forms.ChoiceField:
    return forms.ChoiceField(
        label=_("With"), choices=Treatment.Tool.choices, required=False, widget=forms.RadioSelect
    )


def _mesh() -> forms.IntegerField:
    return forms.IntegerField(
        label=_("Mesh"),
        help_text=_("Openings to the inch, such as 80."),
        min_value=1,
        max_value=1000,
        required=False,
        widget=count_input(),
    )


class TopUpForm(OneEntry):
    """More of the same glaze, from a batch or a container."""

    volume_ml = volume_field(_("How much, in mL"), _("Or choose the level afterwards."))
    level = level_field(_("Level afterwards"))
    lot = forms.CharField(
        label=_("Batch or lot"),
        max_length=60,
        required=False,
        help_text=_(
            "Of another lot, or of none, read the new container: what the label says is no longer known then."
        ),
    )
    at = MomentField(label=_("When"), initial=this_minute, required=False)
    remark = _remark()


class PourForm(OneEntry):
    """From bucket to bucket. The view says what is flagged before it is poured; `knowingly` answers that."""

    INTO, OUT_OF = "into", "out_of"
    way = forms.ChoiceField(
        label=_("Which way"),
        choices=[(OUT_OF, _("out of this bucket")), (INTO, _("into this bucket"))],
        widget=forms.RadioSelect,
    )
    other = forms.ChoiceField(label=_("The other bucket"), widget=forms.RadioSelect)
    volume_ml = volume_field(_("How much, in mL"), _("Leave it empty when it was not measured."))
    at = MomentField(label=_("When"), initial=this_minute, required=False)
    remark = _remark()
    knowingly = forms.BooleanField(label=_("Pour it all the same"), required=False)

    def __init__(
        self,
        *args: Any,
        others: list[tuple[str, Any]],
        empties: list[tuple[str, Any]],
        flagged: bool,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["other"].choices = [*others, *empties]
        self.empty = {code for code, _words in empties}
        if not flagged:
            del self.fields["knowingly"]

    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        if found.get("way") == self.INTO and found.get("other") in self.empty:
            self.add_error("other", _("Nothing is in that bucket, so nothing comes out of it."))
        return found


class TreatmentForm(FillAtHand):
    """Stirred, sieved, or something added."""

    KINDS = [(value, label) for value, label in Treatment.Kind.choices if value != Treatment.Kind.REVIVED]
    kind = forms.ChoiceField(label=_("What"), choices=KINDS, widget=forms.RadioSelect)
    tool = _tool()
    mesh = _mesh()
    material = forms.CharField(
        label=_("What was added"),
        max_length=80,
        required=False,
        widget=forms.TextInput(attrs={"list": "materials"}),
    )
    amount_g = AmountField(label=_("How much, in g"), max_digits=9, decimal_places=2, required=False)
    amount_ml = AmountField(label=_("Or in mL"), max_digits=9, decimal_places=1, required=False)
    at = MomentField(label=_("When"), initial=this_minute, required=False)
    remark = _remark()

    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        if found.get("kind") in Treatment.ADDS and not found.get("material"):
            self.add_error("material", _("Say what was added."))
        return found

    def entry(self) -> dict[str, Any]:
        """The fields of the treatment; an empty moment is now."""
        return {name: value for name, value in super().entry().items() if (name, value) != ("at", None)}


class ReckonForm(forms.Form):
    """How much water a dried fill wants: from the dry glaze, or from what it was before, or from what it is now."""

    DRY, WAS, IS = "dry", "was", "is"
    known = forms.ChoiceField(
        label=_("What is known"),
        choices=[
            (DRY, _("what the dry glaze weighs")),
            (WAS, _("how much slurry it was before it dried right out, and its SG then")),
            (IS, _("how much slurry there still is, and its SG now")),
        ],
        widget=forms.RadioSelect,
    )
    dry_g = AmountField(label=_("Dry glaze (g)"), max_digits=9, decimal_places=1, min_value=1, required=False)
    volume_ml = AmountField(
        label=_("Slurry (mL)"), max_digits=9, decimal_places=1, min_value=1, required=False
    )
    specific_gravity = SpecificGravityFormField(label=_("Specific gravity"), required=False)
    target = SpecificGravityFormField(label=_("Wanted specific gravity"))

    def clean(self) -> dict[str, Any]:
        found = super().clean() or self.cleaned_data
        wanted = {self.DRY: ["dry_g"]}.get(str(found.get("known")), ["volume_ml", "specific_gravity"])
        for name in wanted if "known" in found else []:
            if found.get(name) is None and name not in self.errors:
                self.add_error(name, _("This is needed to reckon the water."))
        return found


class ReviveForm(FillAtHand):
    """The water that went in, and the work."""

    water_ml = AmountField(label=_("Water that went in (mL)"), max_digits=9, decimal_places=1, min_value=0)
    specific_gravity = SpecificGravityFormField(
        label=_("Specific gravity afterwards"), help_text=_("After stirring well."), required=False
    )
    tool = _tool()
    mesh = _mesh()
    remark = _remark()


class WashOutForm(VersionedForm):
    why = forms.CharField(
        label=_("Why"), max_length=120, help_text=_("Such as: another glaze got in, gone bad, dried out.")
    )
