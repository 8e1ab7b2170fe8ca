"""A pot that is only planned: layers from the clay outwards, body, cone, form. Asked by GET, so it is a link."""

from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.calc.cones import Cone
from inventory.fields import ConeFormField
from inventory.models import Fill, Glaze
from tiles.food import MOST_LAYERS, PotLayer
from tiles.models import ClayBody, Kiln, Layer

FILL, GLAZE = "fill-", "glaze-"
# How a layer is meant to go on: what of it is said is checked as on a tile.
HOW = ("method", "coats", "tool", "ground", "ground_state", "stirred_in")


class Shelf:
    """What a layer can be, read once for all rows: what stands in a bucket, and every glaze by its name."""

    def __init__(self) -> None:
        fills = (
            Fill.objects.in_use().select_related("glaze", "bucket").order_by("glaze__name", "bucket__code")
        )
        self.layers: dict[str, tuple[Glaze, Fill | None]] = {f"{FILL}{f.pk}": (f.glaze, f) for f in fills}
        standing = [
            (key, f"{glaze.name} ({fill.bucket.code})") for key, (glaze, fill) in self.layers.items() if fill
        ]
        glazes = {f"{GLAZE}{glaze.pk}": glaze for glaze in Glaze.objects.filter(archived_at=None)}
        self.layers |= {key: (glaze, None) for key, glaze in glazes.items()}
        named = [(key, glaze.name) for key, glaze in glazes.items()]
        self.others = [("", _("nothing")), *named]
        self.choices = [
            ("", _("choose")),
            (_("Out of a bucket"), standing),
            (_("Only which glaze"), named),
        ]


UNKNOWN = ("", _("not said"))


class PotLayerForm(forms.Form):
    """One layer. Its names stand once for every layer in the address, in their order."""

    layer = forms.ChoiceField(label=_("Glaze"))
    area = forms.ChoiceField(label=_("Where"), choices=Layer.Area.choices)
    method = forms.ChoiceField(label=_("How"), choices=[UNKNOWN, *Layer.Method.choices], required=False)
    coats = forms.IntegerField(label=_("Coats"), min_value=1, max_value=12, required=False)
    tool = forms.CharField(
        label=_("Tool"), max_length=60, required=False, help_text=_("Such as soft mop or hog brush.")
    )
    ground = forms.ChoiceField(label=_("Onto"), choices=[UNKNOWN, *Layer.Ground.choices], required=False)
    ground_state = forms.ChoiceField(
        label=_("What it goes onto is"), choices=[UNKNOWN, *Layer.GroundState.choices], required=False
    )
    stirred_in = forms.ChoiceField(label=_("Stirred into it"), required=False)

    def __init__(self, *args: Any, shelf: Shelf, number: int, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=f"id_{number}_%s", **kwargs)
        self.shelf, self.number = shelf, number
        self.fields["layer"].choices = shelf.choices
        self.fields["stirred_in"].choices = shelf.others

    @property
    def title(self) -> str:
        return _now("Layer %(n)s") % {"n": self.number}

    def chosen(self) -> PotLayer:
        said = self.cleaned_data
        glaze, fill = self.shelf.layers[said["layer"]]
        other = self.shelf.layers[said["stirred_in"]][0] if said["stirred_in"] else None
        return PotLayer(glaze=glaze, fill=fill, area=said["area"], ground=said["ground"], stirred_in=other)

    @property
    def first_fields(self) -> list[forms.BoundField]:
        return [field for field in self.visible_fields() if field.name not in HOW]

    @property
    def how_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in HOW]

    @property
    def says_how(self) -> bool:
        """Something of it was said, or is wrong: it is not folded away then."""
        return any(self.data.get(name) for name in HOW) or any(name in self.errors for name in HOW)

    def draft(self) -> dict[str, Any]:
        """As `findings_of_pot` takes a layer."""
        layer, said = self.chosen(), self.cleaned_data
        how = {name: said[name] for name in HOW if said[name]} | {"stirred_in": layer.stirred_in}
        return {"glaze": layer.glaze, "fill": layer.fill, "area": layer.area, **how}


class PotForm(forms.Form):
    body = forms.ModelChoiceField(
        label=_("Clay body"), queryset=ClayBody.objects.none(), required=False, empty_label=_("not known")
    )
    cone = ConeFormField(label=_("Fired to cone"), required=False)
    form = forms.CharField(
        label=_("Form"), max_length=60, required=False, help_text=_("Such as mug or plate.")
    )
    kiln = forms.ModelChoiceField(
        label=_("Kiln"), queryset=Kiln.objects.none(), required=False, empty_label=_("not known")
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["body"].queryset = ClayBody.objects.filter(archived_at=None)
        self.fields["kiln"].queryset = Kiln.objects.filter(archived_at=None)


class PlannedPot:
    """The whole question. An empty row is none; `wants_more` asks for one more."""

    def __init__(self, query: QueryDict) -> None:
        self.shelf = Shelf()
        said = {name: query.getlist(name) for name in ("area", *HOW)}
        asked = [
            {"layer": layer, **{name: values[n] for name, values in said.items() if n < len(values)}}
            for n, layer in enumerate(query.getlist("layer"))
            if layer
        ][:MOST_LAYERS]
        self.rows = [self._row(n, {"area": Layer.Area.WHOLE, **row}) for n, row in enumerate(asked, start=1)]
        self.empty = self._row(len(asked) + 1, None) if not asked or "add" in query else None
        self.form = PotForm(query)
        self.form.is_valid()

    def _row(self, number: int, data: dict[str, str] | None) -> PotLayerForm:
        return PotLayerForm(data, shelf=self.shelf, number=number, initial={"area": Layer.Area.WHOLE})

    @property
    def all_rows(self) -> list[PotLayerForm]:
        return [*self.rows, *([self.empty] if self.empty else [])]

    @property
    def is_full(self) -> bool:
        return len(self.all_rows) >= MOST_LAYERS

    @property
    def is_ready(self) -> bool:
        """Something was asked, and all of it understood."""
        return bool(self.rows) and self.form.is_valid() and all(row.is_valid() for row in self.rows)

    def layers(self) -> list[PotLayer]:
        return [row.chosen() for row in self.rows]

    def drafts(self) -> list[dict[str, Any]]:
        return [row.draft() for row in self.rows]

    @property
    def cone(self) -> Cone | None:
        return self.form.cleaned_data["cone"]
