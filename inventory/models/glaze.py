"""What goes on a pot out of a bucket: glazes, and underglazes, slips, washes and wax beside them."""

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from studio.models import Aggregate


class Surface(models.TextChoices):
    GLOSSY = "glossy", _("glossy")
    SATIN = "satin", _("satin")
    MATTE = "matte", _("matte")
    DRY = "dry", _("dry")


class Opacity(models.TextChoices):
    TRANSPARENT = "transparent", _("transparent")
    TRANSLUCENT = "translucent", _("translucent")
    OPAQUE = "opaque", _("opaque")


class Glaze(Aggregate):
    """A recipe or product by name. What stands in a bucket is a Fill of it."""

    class Kind(models.TextChoices):
        GLAZE = "glaze", _("glaze")
        UNDERGLAZE = "underglaze", _("underglaze")
        SLIP = "slip", _("slip")
        ENGOBE = "engobe", _("engobe")
        TERRA_SIGILLATA = "terra_sigillata", _("terra sigillata")
        WASH = "wash", _("wash")
        LUSTRE = "lustre", _("overglaze or lustre")
        WAX = "wax", _("wax")

    class Origin(models.TextChoices):
        BOUGHT = "bought", _("bought")
        MIXED = "mixed", _("mixed here")

    name = models.CharField(_("name"), max_length=120)
    kind = models.CharField(_("kind"), max_length=16, choices=Kind, default=Kind.GLAZE)
    origin = models.CharField(_("bought or mixed here"), max_length=6, choices=Origin, default=Origin.MIXED)
    maker = models.CharField(_("maker"), max_length=120, blank=True, help_text=_("of a bought product"))
    product_code = models.CharField(_("product code"), max_length=60, blank=True)
    cone_low = ConeField(_("coolest cone"), null=True, blank=True)
    cone_high = ConeField(_("hottest cone"), null=True, blank=True)
    sg_low = models.DecimalField(_("SG from"), max_digits=4, decimal_places=3, null=True, blank=True)
    sg_high = models.DecimalField(_("SG to"), max_digits=4, decimal_places=3, null=True, blank=True)
    surface = models.CharField(_("expected surface"), max_length=6, choices=Surface, blank=True)
    opacity = models.CharField(_("expected opacity"), max_length=12, choices=Opacity, blank=True)
    colour = models.CharField(
        _("swatch"),
        max_length=7,
        blank=True,
        validators=[
            RegexValidator(
                r"^#[0-9a-fA-F]{6}$", _("Write a colour as # and six hexadecimal digits, such as #8aa0b4.")
            )
        ],
    )
    expected_movement_mm = models.DecimalField(
        _("expected movement (mm)"),
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
        help_text=_("how far down it creeps in the firing"),
    )
    advice = models.TextField(
        _("coats and methods advised"),
        blank=True,
        help_text=_("Such as: two dips of three seconds, thinner at the foot."),
    )
    claim = models.TextField(
        _("what its author claims about food"),
        blank=True,
        help_text=_("Kept as a claim; it counts as not known."),
    )
    health_statement = models.TextField(_("health statements of the container"), blank=True)
    remark = models.TextField(_("remark"), blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("glaze")
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="glaze_name_once",
                violation_error_message=_("There is a glaze of this name already."),
            ),
            models.CheckConstraint(
                condition=Q(cone_low__isnull=True, cone_high__isnull=True)
                | Q(cone_low__isnull=False, cone_high__isnull=False, cone_low__lte=F("cone_high")),
                name="glaze_cone_range",
                violation_error_message=_("Give both cones, the cooler one first (06 is cooler than 6)."),
            ),
            models.CheckConstraint(
                condition=Q(sg_low__isnull=True, sg_high__isnull=True)
                | Q(sg_low__isnull=False, sg_high__isnull=False)
                & Q(sg_low__gt=1, sg_low__lte=F("sg_high"), sg_high__lte=2.5),
                name="glaze_sg_window",
                violation_error_message=_(
                    "Give both ends of the SG window, the lower first, between 1.00 and 2.50."
                ),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        # The database lets half a window pass, because a comparison with NULL is not false.
        if (self.sg_low is None) != (self.sg_high is None):
            raise ValidationError(
                _("Give both ends of the SG window, the lower first, between 1.00 and 2.50.")
            )

    def get_absolute_url(self) -> str:
        return reverse("inventory:glaze", args=[self.pk])
