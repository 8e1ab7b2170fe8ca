"""What a laboratory found in fired ware, and what the studio tried at home."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from inventory.models import Glaze
from studio.models import Aggregate, Record, StoredPhoto
from tiles.models.clay import ClayBody
from tiles.models.tile import Layer, Tile
from tiles.queries_laboratory import HomeTrialQuerySet, LabReportQuerySet


class LabReport(Aggregate):
    """A laboratory's report on ware of one stack of layers, body, cone and form.

    `standard` and `category` are the codes of fixtures/leach_limits.csv. The file of the report lies under a
    random key and is streamed by the service. A report written down by mistake is withdrawn, never deleted.
    """

    laboratory = models.CharField(_("laboratory"), max_length=120)
    report_number = models.CharField(_("number of the report"), max_length=60, blank=True)
    tested_on = models.DateField(_("tested on"))
    standard = models.CharField(_("judged by"), max_length=20)
    category = models.CharField(_("kind of ware"), max_length=20)
    method = models.CharField(_("method"), max_length=120, blank=True, help_text=_("As the report names it."))
    tile = models.ForeignKey(
        Tile,
        verbose_name=_("tile"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="lab_reports",
    )
    body = models.ForeignKey(
        ClayBody,
        verbose_name=_("clay body"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="lab_reports",
    )
    cone = ConeField(_("fired to cone"), null=True, blank=True)
    form = models.CharField(_("form"), max_length=60, blank=True, help_text=_("Such as mug or plate."))
    file_key = models.CharField(max_length=64, blank=True, editable=False)
    file_name = models.CharField(max_length=160, blank=True, editable=False)
    remark = models.TextField(_("remark"), blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = LabReportQuerySet.as_manager()

    class Meta:
        verbose_name = _("laboratory report")
        ordering = ["-tested_on", "-created_at"]

    def __str__(self) -> str:
        return _("laboratory report of %(day)s") % {"day": date_format(self.tested_on, "j F Y")}

    def get_absolute_url(self) -> str:
        return reverse("tiles:report", args=[self.pk])


class LabLayer(models.Model):
    """One layer of the ware that was tested, from the clay outwards: which glaze, of which lot or recipe, and where.

    An `area` that is empty was not noted: of several layers nobody knows then which of them the acid stood on.
    """

    report = models.ForeignKey(LabReport, on_delete=models.CASCADE, related_name="layers")
    position = models.PositiveSmallIntegerField()
    glaze = models.ForeignKey(Glaze, on_delete=models.PROTECT, related_name="lab_layers")
    lot = models.CharField(_("lot or version"), max_length=60, blank=True)
    area = models.CharField(_("where"), max_length=7, choices=Layer.Area, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["report", "position"], name="lab_layer_once")]

    def __str__(self) -> str:
        return f"{self.position} {self.glaze}"


class LabValue(models.Model):
    """What one piece released of one metal; `is_below`: the figure is the laboratory's limit of detection."""

    class Unit(models.TextChoices):
        MG_PER_L = "mg_per_l", _("mg/L (the same as µg/mL)")
        MG_PER_DM2 = "mg_per_dm2", _("mg/dm²")

    report = models.ForeignKey(LabReport, on_delete=models.CASCADE, related_name="values")
    piece = models.PositiveSmallIntegerField(_("piece"), validators=[MinValueValidator(1)])
    metal = models.CharField(_("metal"), max_length=2)
    amount = models.DecimalField(
        _("released"), max_digits=10, decimal_places=5, validators=[MinValueValidator(0)]
    )
    is_below = models.BooleanField(_("less than"), default=False)
    unit = models.CharField(_("unit"), max_length=10, choices=Unit, default=Unit.MG_PER_L)

    class Meta:
        ordering = ["piece", "metal"]
        constraints = [
            models.UniqueConstraint(fields=["report", "piece", "metal", "unit"], name="lab_value_once"),
            models.CheckConstraint(condition=Q(amount__gte=0), name="lab_value_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.metal} {'<' if self.is_below else ''}{self.amount}"


class HomeTrial(Record):
    """A screen tried at home on a fired tile. A pass means only: not yet failed."""

    class Kind(models.TextChoices):
        ACID = "acid", _("acid soak")
        DISHWASHER = "dishwasher", _("dishwasher")
        THERMAL_SHOCK = "thermal_shock", _("hot and cold")
        SCRATCH = "scratch", _("scratch")
        CUTLERY = "cutlery", _("cutlery")

    class Result(models.TextChoices):
        RUNNING = "", _("still running")
        NOT_YET_FAILED = "not_yet_failed", _("not yet failed")
        FAILED = "failed", _("failed")
        UNCLEAR = "unclear", _("cannot say")

    tile = models.ForeignKey(Tile, on_delete=models.PROTECT, related_name="home_trials")
    kind = models.CharField(_("what"), max_length=13, choices=Kind)
    done = models.CharField(
        _("how"), max_length=200, help_text=_("Such as: vinegar, three days, half covered.")
    )
    begun_on = models.DateField(_("begun on"), default=timezone.localdate)
    ended_on = models.DateField(_("ended on"), null=True, blank=True)
    result = models.CharField(_("result"), max_length=14, choices=Result, blank=True)
    seen = models.CharField(_("what was seen"), max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    taken_back_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = HomeTrialQuerySet.as_manager()

    class Meta:
        verbose_name = _("trial at home")
        ordering = ["-begun_on", "-created_at"]

    def __str__(self) -> str:
        return str(self.get_kind_display())


class HomeTrialPhoto(StoredPhoto):
    """A photo of a tile before or after a trial at home."""

    class Stage(models.TextChoices):
        BEFORE = "before", _("before")
        AFTER = "after", _("after")

    trial = models.ForeignKey(HomeTrial, on_delete=models.PROTECT, related_name="photos")
    stage = models.CharField(_("taken"), max_length=6, choices=Stage)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("photo of a trial at home")
        ordering = ["created_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["trial", "sha256"],
                condition=Q(archived_at__isnull=True),
                name="home_trial_photo_once",
                violation_error_message=_("This photo is here already."),
            )
        ]

    def __str__(self) -> str:
        return _("photo of %(trial)s") % {"trial": self.trial}
