"""A test tile with its layers, and the runs in which numbers are reserved."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Upper
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from inventory.models import Fill, Glaze, Place
from studio.models import Aggregate, Record
from tiles.models.clay import ClayBody
from tiles.models.combination import Combination
from tiles.models.firing import Firing
from tiles.queries import LayerQuerySet, RunQuerySet, TileQuerySet

NUMBER = RegexValidator(
    r"^[0-9A-Za-z][0-9A-Za-z._-]{0,23}$",
    _("A tile's number is up to 24 letters and digits, with - . or _ between them and no spaces."),
)


class NumberRun(Record):
    """A run of numbers reserved at one time, for tiles just made or for a device without network."""

    prefix = models.CharField(_("prefix"), max_length=8, blank=True)
    first = models.PositiveIntegerField(_("first"))
    last = models.PositiveIntegerField(_("last"))
    device = models.CharField(_("device"), max_length=80, blank=True)
    reserved_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    objects = RunQuerySet.as_manager()

    class Meta:
        verbose_name = _("run of numbers")
        ordering = ["-created_at"]
        constraints = [models.CheckConstraint(condition=Q(first__lte=models.F("last")), name="run_in_order")]

    def __str__(self) -> str:
        first = f"{self.prefix}{self.first}"
        return first if self.first == self.last else f"{first}-{self.prefix}{self.last}"


class NumberSeries(models.Model):
    """The next free number of a prefix; its row is the lock under which runs are reserved."""

    prefix = models.CharField(max_length=8, primary_key=True)
    next_number = models.PositiveIntegerField(default=1)

    def __str__(self) -> str:
        return f"{self.prefix}{self.next_number}"


class Tile(Aggregate):
    """One test tile, by the number on its back. Numbers are never reused, so tiles are never deleted."""

    class State(models.TextChoices):
        BLANK = "blank", _("blank")
        BISQUED = "bisqued", _("bisqued")
        GLAZED = "glazed", _("glazed")
        FIRED = "fired", _("fired")
        RECORDED = "recorded", _("recorded")
        LOST = "lost", _("lost")
        BROKEN = "broken", _("broken")

    class Visibility(models.TextChoices):
        MINE = "mine", _("me and technicians")
        STUDIO = "studio", _("the studio")
        OPEN = "open", _("the open wall")

    number = models.CharField(_("number"), max_length=24, validators=[NUMBER])
    body = models.ForeignKey(
        ClayBody,
        verbose_name=_("clay body"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="tiles",
    )
    form = models.CharField(_("form"), max_length=40, blank=True)
    maker = models.ForeignKey(
        settings.AUTH_USER_MODEL, verbose_name=_("maker"), on_delete=models.PROTECT, related_name="tiles"
    )
    made_on = models.DateField(_("made on"), null=True, blank=True)
    run = models.ForeignKey(
        NumberRun, null=True, blank=True, on_delete=models.PROTECT, related_name="tiles", editable=False
    )
    state = models.CharField(_("state"), max_length=8, choices=State, default=State.BLANK)
    place = models.ForeignKey(
        Place,
        verbose_name=_("where it hangs"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="tiles",
    )
    visibility = models.CharField(_("seen by"), max_length=6, choices=Visibility, default=Visibility.STUDIO)
    # The hottest glaze firing's; written by the actions that change the evidence.
    cone = ConeField(_("cone"), null=True, blank=True, editable=False, db_index=True)
    cone_basis = models.CharField(max_length=16, blank=True, editable=False)
    remark = models.TextField(_("remark"), blank=True)

    objects = TileQuerySet.as_manager()

    class Meta:
        verbose_name = _("tile")
        ordering = ["-created_at"]
        constraints = [
            models.UniqueConstraint(
                Upper("number"),
                name="tile_number_once",
                violation_error_message=_(
                    "This number is on another tile. Look at the back again, or give the next free one."
                ),
            )
        ]

    def __str__(self) -> str:
        return _("Tile %(number)s") % {"number": self.number}

    def get_absolute_url(self) -> str:
        return reverse("tile", args=[self.number])


class Layer(Record):
    """One layer, in order from the clay outwards, with the standing of its fill at the time."""

    class Method(models.TextChoices):
        DIP = "dip", _("dipped")
        BRUSH = "brush", _("brushed")
        POUR = "pour", _("poured")
        SPRAY = "spray", _("sprayed")
        OTHER = "other", _("another way")

    class Area(models.TextChoices):
        WHOLE = "whole", _("whole")
        UPPER = "upper", _("upper part")
        LOWER = "lower", _("lower part")
        BAND = "band", _("band")
        INSIDE = "inside", _("inside")
        OUTSIDE = "outside", _("outside")
        LIP = "lip", _("lip")
        FOOT = "foot", _("foot")

    class Ground(models.TextChoices):
        GREENWARE = "greenware", _("greenware")
        BISQUE = "bisque", _("bisque")
        FIRED = "fired", _("fired glaze")

    class GroundState(models.TextChoices):
        CLEAN = "clean", _("clean and dry")
        DUSTY = "dusty", _("dusty")
        OILY = "oily", _("touched by oily hands")
        DAMP = "damp", _("damp")

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="layers")
    position = models.PositiveSmallIntegerField(_("layer"), validators=[MinValueValidator(1)])
    glaze = models.ForeignKey(Glaze, verbose_name=_("glaze"), on_delete=models.PROTECT, related_name="layers")
    fill = models.ForeignKey(
        Fill,
        verbose_name=_("out of bucket"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="layers",
    )
    method = models.CharField(_("how"), max_length=5, choices=Method, default=Method.DIP)
    tool = models.CharField(_("tool"), max_length=60, blank=True)
    coats = models.PositiveSmallIntegerField(
        _("coats"), default=1, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    dip_seconds = models.DecimalField(
        _("seconds in the glaze"),
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(120)],
    )
    thickness_mm = models.DecimalField(
        _("thickness (mm)"),
        max_digits=4,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(10)],
    )
    area = models.CharField(_("where"), max_length=7, choices=Area, default=Area.WHOLE)
    ground = models.CharField(_("on"), max_length=9, choices=Ground, default=Ground.BISQUE)
    precedes = models.ForeignKey(
        Firing,
        verbose_name=_("before firing"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="layers",
    )
    wiped_back = models.BooleanField(_("wiped back"), default=False)
    # What nobody said is None or '': the rules then have nothing to say either.
    ground_state = models.CharField(_("what it went onto was"), max_length=5, choices=GroundState, blank=True)
    is_even = models.BooleanField(_("coats even"), null=True, blank=True)
    stirred_in = models.ForeignKey(
        Glaze,
        verbose_name=_("stirred into it"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="stirred_into",
    )
    applied_at = models.DateTimeField(_("when"), null=True, blank=True, default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False
    )
    sg_then = models.DecimalField(max_digits=4, decimal_places=3, null=True, blank=True, editable=False)
    use_then = models.CharField(max_length=10, blank=True, editable=False)
    food_then = models.CharField(max_length=24, blank=True, editable=False)
    reasons_then = models.JSONField(default=list, blank=True, editable=False)

    objects = LayerQuerySet.as_manager()

    class Meta:
        verbose_name = _("layer")
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["tile", "position"], name="layer_position_once"),
            models.CheckConstraint(
                condition=Q(coats__gte=1, coats__lte=12),
                name="layer_coats_possible",
                violation_error_message=_("Give 1 to 12 coats."),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.position} {self.glaze}"


class TileZone(models.Model):
    """A part of a tile under the same layers, derived from layers and areas whenever they change."""

    class Kind(models.TextChoices):
        WHOLE = "whole", _("whole tile")
        ALONE = "alone", _("one layer alone")
        OVERLAP = "overlap", _("overlap")

    tile = models.ForeignKey(Tile, on_delete=models.CASCADE, related_name="zones")
    kind = models.CharField(max_length=7, choices=Kind)
    combination = models.ForeignKey(Combination, on_delete=models.PROTECT, related_name="zones")
    regions = models.JSONField(default=list)
    layer_positions = models.JSONField(default=list)

    class Meta:
        ordering = ["id"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.combination}"
