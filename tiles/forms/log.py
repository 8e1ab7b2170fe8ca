"""The next layer of a tile."""

import uuid
from typing import Any

from django import forms
from django.db.models import Q
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext_lazy as _

from inventory.models import Fill, Glaze
from inventory.sentences import use_words
from studio.pages import VersionedForm
from tiles.forms.fields import Measure, Moment
from tiles.models import Layer, Tile

CHIPS = 5
LAYER_FIELDS = (
    "method",
    "coats",
    "area",
    "ground",
    "dip_seconds",
    "thickness_mm",
    "tool",
    "wiped_back",
    "applied_at",
    "ground_state",
    "is_even",
    "stirred_in",
)
EVEN = [("", _("not noted")), ("true", _("even")), ("false", _("uneven"))]


def recent_fills(person: Any, scanned: str = "") -> list[Fill]:
    """The scanned bucket, then those that the person used last, as far as they are still in use."""
    used = Layer.objects.filter(by=person).exclude(fill=None).order_by("-created_at")
    wanted = [scanned] if is_id(scanned) else []
    wanted += [str(pk) for pk in used.values_list("fill", flat=True)[:40]]
    fills = Fill.objects.in_use().select_related("glaze", "bucket").with_standing()
    by_id = {str(fill.pk): fill for fill in fills.filter(pk__in=wanted)}
    return [by_id[pk] for pk in dict.fromkeys(wanted) if pk in by_id][:CHIPS]


def is_id(text: str) -> bool:
    try:
        return str(uuid.UUID(text)) == text
    except ValueError:
        return False


def is_version(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 10


def fill_words(fill: Fill) -> str:
    return format_html(
        '{} <span class="soft"><span class="code">{}</span> {}</span>',
        fill.glaze.name,
        fill.bucket.code,
        use_words(fill.use),
    )


class FillChoice(forms.ModelChoiceField):
    def label_from_instance(self, obj: Any) -> str:
        return f"{obj.glaze.name} ({obj.bucket.code})"


class LayerForm(VersionedForm):
    """One layer: out of a bucket (a chip, or any of the shelf) or of a glaze whose bucket is not noted."""

    fill = forms.ChoiceField(label=_("Out of which bucket"), required=False, widget=forms.RadioSelect)
    other_fill = FillChoice(
        Fill.objects.in_use().select_related("glaze", "bucket").order_by("glaze__name"),
        label=_("Another bucket"),
        required=False,
        empty_label=_("choose"),
    )
    glaze = forms.ModelChoiceField(
        Glaze.objects.filter(archived_at=None),
        label=_("Glaze without a bucket"),
        required=False,
        empty_label=_("choose"),
        help_text=_("When nobody knows which bucket it was."),
    )
    method = forms.ChoiceField(
        label=_("How"),
        choices=Layer.Method.choices,
        initial=Layer.Method.DIP,
        widget=forms.RadioSelect,
    )
    coats = forms.IntegerField(
        label=_("Coats"),
        min_value=1,
        max_value=12,
        initial=1,
        widget=forms.NumberInput(attrs={"data-stepper": "", "inputmode": "numeric"}),
    )
    area = forms.ChoiceField(
        label=_("Where"), choices=Layer.Area.choices, initial=Layer.Area.WHOLE, widget=forms.RadioSelect
    )
    ground = forms.ChoiceField(
        label=_("Put onto"),
        choices=Layer.Ground.choices,
        initial=Layer.Ground.BISQUE,
        widget=forms.RadioSelect,
    )
    dip_seconds = Measure(label=_("Seconds in the glaze"))
    thickness_mm = Measure(label=_("Thickness (mm)"))
    tool = forms.CharField(label=_("Tool"), max_length=60, required=False)
    wiped_back = forms.BooleanField(label=_("Wiped back"), required=False)
    ground_state = forms.ChoiceField(
        label=_("What it went onto was"),
        choices=[("", _("not noted")), *Layer.GroundState.choices],
        required=False,
        widget=forms.RadioSelect,
    )
    is_even = forms.TypedChoiceField(
        label=_("The coats are"),
        choices=EVEN,
        coerce=lambda said: said == "true",
        empty_value=None,
        required=False,
        widget=forms.RadioSelect,
    )
    stirred_in = forms.ModelChoiceField(
        Glaze.objects.filter(archived_at=None),
        label=_("Stirred into it"),
        required=False,
        empty_label=_("nothing"),
        help_text=_("An underglaze or another glaze that was mixed in for this layer."),
    )
    applied_at = Moment(label=_("When"), required=False, help_text=_("Left empty: now."))
    when_unknown = forms.BooleanField(label=_("Nobody knows when"), required=False)

    REST = ("other_fill", "glaze")
    FIRST = ("method", "coats", "area")
    FOLDED = (
        "ground",
        "ground_state",
        "is_even",
        "dip_seconds",
        "thickness_mm",
        "tool",
        "wiped_back",
        "stirred_in",
        "applied_at",
        "when_unknown",
    )

    def __init__(
        self,
        *args: Any,
        tile: Tile,
        person: Any,
        scanned: str = "",
        layer: Layer | None = None,
        **kwargs: Any,
    ) -> None:
        self.layer = layer
        fills = recent_fills(person, str(layer.fill_id) if layer and layer.fill_id else scanned)
        initial = self._of_layer(layer) if layer else self._next(tile, fills, scanned)
        super().__init__(*args, initial={"version": tile.version, **initial}, **kwargs)
        if layer and layer.fill_id:
            # What has been emptied since is still what it came out of.
            in_use_or_this = Q(ended_at=None, bucket__archived_at=None) | Q(pk=layer.fill_id)
            self.fields["other_fill"].queryset = Fill.objects.filter(in_use_or_this).select_related(
                "glaze", "bucket"
            )
            fills = fills if layer.fill_id in {fill.pk for fill in fills} else []
        if layer:
            self.fields["applied_at"].help_text = _("Left empty: not known.")
            del self.fields["when_unknown"]
        self._by_id = {str(fill.pk): fill for fill in fills}
        if fills:
            chips = [(pk, fill_words(fill)) for pk, fill in self._by_id.items()]
            self.fields["fill"].choices = [*chips, ("", _("another, see below"))]
        else:
            del self.fields["fill"]

    @staticmethod
    def _next(tile: Tile, fills: list[Fill], scanned: str) -> dict[str, Any]:
        is_fired = tile.state in (Tile.State.FIRED, Tile.State.RECORDED)
        ground = Layer.Ground.FIRED if is_fired else Layer.Ground.BISQUE
        return {"fill": scanned if scanned in {str(fill.pk) for fill in fills} else "", "ground": ground}

    @staticmethod
    def _of_layer(layer: Layer) -> dict[str, Any]:
        known = {field: getattr(layer, field) for field in LAYER_FIELDS}
        known["is_even"] = {True: "true", False: "false", None: ""}[layer.is_even]
        if layer.fill_id is None:
            return {**known, "glaze": layer.glaze_id}
        in_use = Fill.objects.in_use().filter(pk=layer.fill_id).exists()
        return {**known, ("fill" if in_use else "other_fill"): str(layer.fill_id)}

    def part(self, names: tuple[str, ...]) -> list[forms.BoundField]:
        return [self[name] for name in names if name in self.fields]

    @property
    def chips(self) -> forms.BoundField | None:
        return self["fill"] if "fill" in self.fields else None

    @property
    def rest(self) -> list[forms.BoundField]:
        return self.part(self.REST)

    @property
    def rest_is_wanted(self) -> bool:
        return any(field.errors or field.value() for field in self.rest)

    @property
    def first(self) -> list[forms.BoundField]:
        return self.part(self.FIRST)

    @property
    def folded(self) -> list[forms.BoundField]:
        return self.part(self.FOLDED)

    @property
    def folded_has_errors(self) -> bool:
        return any(field.errors for field in self.folded)

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        picked = self._picked()
        if len(picked) > 1:
            names = " / ".join(str(one) for one in picked)
            self.add_error(None, _("You chose more than one: %(names)s. Leave only one.") % {"names": names})
        elif not picked and not {"fill", "other_fill", "glaze"} & set(self.errors):
            self.add_error("other_fill", _("Say which bucket it came out of, or which glaze it was."))
        return data

    def _picked(self) -> list[Fill | Glaze]:
        chip = self._by_id.get(self.cleaned_data.get("fill") or "")
        found = [chip, self.cleaned_data.get("other_fill"), self.cleaned_data.get("glaze")]
        return list(dict.fromkeys(one for one in found if one is not None))

    def draft(self) -> dict[str, Any]:
        """The fields of `add_layer`, as far as they are filled in usably."""
        picked = self._picked()[:1]
        fill = next((one for one in picked if isinstance(one, Fill)), None)
        glaze = next((one for one in picked if isinstance(one, Glaze)), fill.glaze if fill else None)
        said = {field: self.cleaned_data[field] for field in LAYER_FIELDS if field in self.cleaned_data}
        if self.layer is None and not said.get("applied_at"):
            said["applied_at"] = None if self.cleaned_data.get("when_unknown") else timezone.now()
        return {**said, "fill": fill, "glaze": glaze}

    def corrections(self) -> dict[str, Any]:
        """What differs from the stored layer: a moment to the minute does not overwrite its seconds."""
        draft, layer = self.draft(), self.layer
        if layer and "applied_at" not in self.changed_data:
            draft.pop("applied_at", None)
        return {field: value for field, value in draft.items() if getattr(layer, field) != value}


class SetLayerForm(LayerForm):
    """One layer for all tiles of a set; `versions` says which tiles it was meant for, as they were read."""

    versions = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, *args: Any, tiles: list[Tile], **kwargs: Any) -> None:
        super().__init__(*args, tile=tiles[0], **kwargs)
        self.tiles = tiles
        self.initial["versions"] = " ".join(f"{tile.number}:{tile.version}" for tile in tiles)

    def versions_read(self) -> dict[uuid.UUID, int]:
        """The versions by tile; empty when the form was sent without."""
        sent = dict(part.rpartition(":")[::2] for part in self.cleaned_data.get("versions", "").split())
        return {
            tile.pk: int(sent[tile.number]) for tile in self.tiles if is_version(sent.get(tile.number, ""))
        }

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        meant = [part.rpartition(":")[0] for part in data.get("versions", "").split()]
        if meant and sorted(meant) != sorted(tile.number for tile in self.tiles):
            self.add_error(None, _("The set in hand has changed meanwhile. Look at it again, then save."))
        return data
