"""The buckets that a guest class may use, under an address of its own."""

import secrets
from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models.bucket import Fill
from inventory.models.entries import StockEntry
from inventory.queries import ClassListQuerySet
from studio.models import Aggregate, Record


def new_secret() -> str:
    return secrets.token_urlsafe(18)


class ClassList(Aggregate):
    """A page without log-in. Its address is the key: kept as it is, because the teacher prints it more than once."""

    name = models.CharField(
        _("name of the class"), max_length=120, help_text=_("The class reads it: name no person.")
    )
    teacher = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        verbose_name=_("teacher"),
        on_delete=models.PROTECT,
        related_name="class_lists",
    )
    secret = models.CharField(max_length=40, unique=True, default=new_secret, editable=False)
    for_children = models.BooleanField(
        _("for children"),
        default=False,
        help_text=_("Only what its own container names fit for children can then be on the list."),
    )
    starts_on = models.DateField(_("from"), default=timezone.localdate)
    ends_on = models.DateField(_("until"))
    fills = models.ManyToManyField(Fill, verbose_name=_("buckets"), related_name="class_lists", blank=True)
    closed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = ClassListQuerySet.as_manager()

    class Meta:
        verbose_name = _("class list")
        ordering = ["-starts_on", "name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(starts_on__lte=F("ends_on")),
                name="class_list_dates",
                violation_error_message=_("The last day comes before the first. Swap them."),
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("inventory:class-list", args=[self.pk])

    @property
    def page_path(self) -> str:
        """The private page that needs no log-in."""
        return reverse("inventory:class-page", args=[self.secret])

    @property
    def state(self) -> str:
        """'closed', 'ended', 'coming' or 'open', by the studio's own calendar."""
        today = timezone.localdate()
        if self.closed_at is not None or not self.teacher.is_active:  # nobody answers for it any more
            return "closed"
        if today > self.ends_on:
            return "ended"
        return "coming" if today < self.starts_on else "open"

    @property
    def is_open(self) -> bool:
        return self.state == "open"


class ClassEntry(Record):
    """What a class used, one entry for its many makers. Nobody of them is named."""

    class_list = models.ForeignKey(ClassList, on_delete=models.PROTECT, related_name="entries")
    fill = models.ForeignKey(
        Fill, verbose_name=_("bucket"), on_delete=models.PROTECT, related_name="class_entries"
    )
    makers = models.PositiveSmallIntegerField(
        _("how many makers"), validators=[MinValueValidator(1), MaxValueValidator(200)]
    )
    pieces = models.PositiveSmallIntegerField(
        _("how many pieces"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(2000)],
    )
    remark = models.CharField(_("remark"), max_length=200, blank=True)
    # How much was taken out, where the class said so.
    stock_entry = models.OneToOneField(
        StockEntry, null=True, blank=True, on_delete=models.PROTECT, related_name="+", editable=False
    )

    class Meta:
        verbose_name = _("entry of a class")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return f"{self.class_list}: {self.fill}"

    @property
    def taken_ml(self) -> Decimal | None:
        """About how much was used, as an amount above 0."""
        entry = self.stock_entry
        return None if entry is None or entry.volume_ml is None else -entry.volume_ml
