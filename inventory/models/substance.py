"""What of concern is in a glaze, as somebody read it: until recipes bring their own analysis."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from inventory.models.glaze import Glaze
from studio.models import Record


class GlazeSubstance(Record):
    """One element of concern in a glaze, or a stain whose analysis nobody knows, with who read it where.

    `percent` is of the dry glaze, as the oxide; None: it is in there and nobody knows how much. A row is never
    deleted: what was misread is taken back, with a reason in the history.
    """

    class Substance(models.TextChoices):
        LEAD = "Pb", _("lead")
        CADMIUM = "Cd", _("cadmium")
        ARSENIC = "As", _("arsenic")
        ANTIMONY = "Sb", _("antimony")
        SELENIUM = "Se", _("selenium")
        URANIUM = "U", _("uranium")
        BARIUM = "Ba", _("barium")
        MANGANESE = "Mn", _("manganese")
        VANADIUM = "V", _("vanadium")
        CHROMIUM = "Cr", _("chromium")
        NICKEL = "Ni", _("nickel")
        COBALT = "Co", _("cobalt")
        COPPER = "Cu", _("copper")
        LITHIUM = "Li", _("lithium")
        ZINC = "Zn", _("zinc")
        STRONTIUM = "Sr", _("strontium")
        STAIN = "stain", _("a stain without an analysis")

    class Read(models.TextChoices):
        CONTAINER = "container", _("on the container")
        DATA_SHEET = "data_sheet", _("in the data sheet")
        MAKER = "maker", _("from its maker")
        RECIPE = "recipe", _("in its recipe")
        ANALYSIS = "analysis", _("in an analysis")

    glaze = models.ForeignKey(Glaze, on_delete=models.PROTECT, related_name="substances")
    substance = models.CharField(_("what"), max_length=5, choices=Substance)
    percent = models.DecimalField(
        _("% of the dry glaze, as the oxide"),
        max_digits=6,
        decimal_places=3,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )
    read_in = models.CharField(_("read"), max_length=10, choices=Read)
    words = models.CharField(_("as it stands there"), max_length=200, blank=True)
    lot = models.CharField(_("lot"), max_length=60, blank=True)
    read_on = models.DateField(_("read on"), default=timezone.localdate)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    taken_back_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("what of concern is in a glaze")
        ordering = ["substance", "created_at"]

    def __str__(self) -> str:
        return str(self.get_substance_display())
