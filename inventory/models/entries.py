"""What is written about a fill and never overwritten: readings and stock entries."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.calc.balance import Movement
from inventory.models.bucket import Fill, Level
from studio.models import Record


class Reading(Record):
    """A specific gravity, after stirring."""

    class Method(models.TextChoices):
        WEIGHED = "weighed", _("weighed a known volume")
        HYDROMETER = "hydrometer", _("hydrometer")

    fill = models.ForeignKey(Fill, on_delete=models.PROTECT, related_name="readings")
    specific_gravity = models.DecimalField(_("specific gravity"), max_digits=4, decimal_places=3)
    taken_at = models.DateTimeField(_("when"), default=timezone.now)
    method = models.CharField(_("how"), max_length=10, choices=Method, default=Method.WEIGHED)
    remark = models.CharField(_("remark"), max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("reading")
        ordering = ["-taken_at", "-created_at"]
        indexes = [models.Index(fields=["fill", "-taken_at"], name="reading_latest")]
        constraints = [
            models.CheckConstraint(
                condition=Q(specific_gravity__gt=1, specific_gravity__lte=2.5),
                name="reading_sg_possible",
                violation_error_message=_("Specific gravity lies between 1.00 and 2.50."),
            )
        ]

    def __str__(self) -> str:
        return f"SG {self.specific_gravity}"


class StockEntry(Record):
    """One movement of a fill, or a level seen. The fill's balance is the sum, reset by a measured level."""

    class Kind(models.TextChoices):
        FILLED = "filled", _("filled")
        TOPPED_UP = "topped_up", _("topped up")
        TRANSFER = "transfer", _("moved from another bucket")
        MOVED_ON = "moved_on", _("moved on into another bucket")
        WATER = "water", _("water added")
        POURED_OFF = "poured_off", _("water taken off the top")
        TAKEN_OUT = "taken_out", _("taken out")
        LEVEL = "level", _("level seen or measured")
        DISCARDED = "discarded", _("discarded")

    # What sets the volume, what adds to it and what takes from it.
    MEASURES = (Kind.LEVEL, Kind.FILLED)
    BRINGS = (Kind.TOPPED_UP, Kind.TRANSFER, Kind.WATER)
    TAKES = (Kind.MOVED_ON, Kind.POURED_OFF, Kind.TAKEN_OUT, Kind.DISCARDED)

    fill = models.ForeignKey(Fill, on_delete=models.PROTECT, related_name="stock_entries")
    kind = models.CharField(_("what"), max_length=10, choices=Kind)
    # Signed for a movement; the whole volume for a level.
    volume_ml = models.DecimalField(_("volume (mL)"), max_digits=9, decimal_places=1, null=True, blank=True)
    level = models.CharField(_("level by eye"), max_length=14, choices=Level, blank=True)
    source_fill = models.ForeignKey(
        Fill,
        verbose_name=_("out of"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="passed_on",
    )
    pair = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="+", editable=False
    )
    lot = models.CharField(_("batch or lot"), max_length=60, blank=True)
    depth_mm = models.PositiveIntegerField(_("dipstick (mm)"), null=True, blank=True)
    gross_g = models.PositiveIntegerField(_("weighs with the bucket (g)"), null=True, blank=True)
    at = models.DateTimeField(_("when"), default=timezone.now)
    asks_for_a_look = models.BooleanField(default=False, editable=False)
    remark = models.CharField(_("remark"), max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("stock entry")
        verbose_name_plural = _("stock entries")
        ordering = ["-at", "-created_at"]
        constraints = [
            models.CheckConstraint(
                # How much was poured from bucket to bucket is often not measured.
                condition=Q(volume_ml__isnull=False)
                | ~Q(level="")
                | Q(kind__in=["transfer", "moved_on", "topped_up"]),
                name="stock_entry_says_something",
                violation_error_message=_("Give a volume or a level."),
            ),
            models.CheckConstraint(
                condition=~Q(kind="transfer") | Q(source_fill__isnull=False),
                name="stock_transfer_names_its_source",
                violation_error_message=_("Say which bucket it came from."),
            ),
            models.CheckConstraint(condition=~Q(fill=models.F("source_fill")), name="stock_not_from_itself"),
        ]

    def __str__(self) -> str:
        return str(self.get_kind_display())

    @property
    def movement(self) -> Movement:
        """The entry as the balance counts it."""
        order = (self.created_at, self.pk.hex)
        return Movement(self.at, order, self.kind in self.MEASURES, self.volume_ml)


class Treatment(Record):
    """Something done to a fill that is neither a reading nor a volume: stirring, sieving, a few grams of something."""

    class Kind(models.TextChoices):
        STIRRED = "stirred", _("stirred")
        SIEVED = "sieved", _("sieved")
        FLOCCULATED = "flocculated", _("flocculant added")
        DEFLOCCULATED = "deflocculated", _("deflocculant added")
        ADDED = "added", _("something else added")
        REVIVED = "revived", _("dried glaze brought back")

    # What brings another material in.
    ADDS = (Kind.FLOCCULATED, Kind.DEFLOCCULATED, Kind.ADDED)

    class Tool(models.TextChoices):
        HAND = "hand", _("by hand")
        MIXER = "mixer", _("drill mixer")
        BLENDER = "blender", _("blender")
        SHAKEN = "shaken", _("shaken")

    fill = models.ForeignKey(Fill, on_delete=models.PROTECT, related_name="treatments")
    kind = models.CharField(_("what"), max_length=13, choices=Kind)
    tool = models.CharField(_("with"), max_length=7, choices=Tool, blank=True)
    mesh = models.PositiveSmallIntegerField(
        _("mesh"), null=True, blank=True, help_text=_("openings to the inch")
    )
    material = models.CharField(_("material"), max_length=80, blank=True)
    amount_g = models.DecimalField(_("amount (g)"), max_digits=9, decimal_places=2, null=True, blank=True)
    amount_ml = models.DecimalField(_("amount (mL)"), max_digits=9, decimal_places=1, null=True, blank=True)
    at = models.DateTimeField(_("when"), default=timezone.now)
    remark = models.CharField(_("remark"), max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name = _("treatment")
        ordering = ["-at", "-created_at"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(kind__in=["flocculated", "deflocculated", "added"]) | ~Q(material=""),
                name="treatment_names_its_material",
                violation_error_message=_("Say what was added."),
            ),
            models.CheckConstraint(
                condition=(Q(amount_g__isnull=True) | Q(amount_g__gt=0))
                & (Q(amount_ml__isnull=True) | Q(amount_ml__gt=0)),
                name="treatment_amount_positive",
                violation_error_message=_("Give an amount above 0."),
            ),
        ]

    def __str__(self) -> str:
        return str(self.get_kind_display())
