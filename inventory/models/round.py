"""A walk past every bucket in shelf order, weighing each: in one sitting or several."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models.bucket import Fill
from inventory.models.entries import Reading
from studio.models import Aggregate


class SgRound(Aggregate):
    """One round. The measuring cup is remembered, so that at each bucket only the scale's number is typed."""

    started_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    cup_ml = models.DecimalField(
        _("the cup holds (mL)"),
        max_digits=7,
        decimal_places=1,
        default=100,
        validators=[MinValueValidator(10)],
    )
    cup_g = models.DecimalField(
        _("the empty cup weighs (g)"),
        max_digits=7,
        decimal_places=1,
        default=0,
        validators=[MinValueValidator(0)],
    )
    finished_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("SG round")
        ordering = ["-created_at"]

    def __str__(self) -> str:
        return _("SG round of %(day)s") % {"day": timezone.localtime(self.created_at).date().isoformat()}

    def get_absolute_url(self) -> str:
        return reverse("inventory:round-summary", args=[self.pk])


class RoundStop(models.Model):
    """One bucket of a round, in its place in the walk."""

    class State(models.TextChoices):
        TO_DO = "to_do", _("to do")
        MEASURED = "measured", _("measured")
        PASSED = "passed", _("passed over")

    round = models.ForeignKey(SgRound, on_delete=models.CASCADE, related_name="stops")
    fill = models.ForeignKey(Fill, on_delete=models.PROTECT, related_name="+")
    order = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=8, choices=State, default=State.TO_DO)
    reading = models.OneToOneField(Reading, null=True, blank=True, on_delete=models.PROTECT, related_name="+")
    why = models.CharField(_("why passed over"), max_length=120, blank=True)

    class Meta:
        ordering = ["order"]
        constraints = [models.UniqueConstraint(fields=["round", "fill"], name="round_stop_once")]

    def __str__(self) -> str:
        return f"{self.order} {self.fill}"
