"""What is written about a fill and never overwritten: readings and stock entries."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

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
        TAKEN_OUT = "taken_out", _("taken out")
        LEVEL = "level", _("level seen or measured")
        DISCARDED = "discarded", _("discarded")

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
                condition=Q(volume_ml__isnull=False) | ~Q(level=""),
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
