"""What tiles are made of and fired in."""

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from inventory.fields import ConeField
from studio.models import Aggregate


def default_positions() -> list[str]:
    return ["top", "middle", "bottom"]


class ClayBody(Aggregate):
    """A clay body with its bisque cone and the cones between which it matures."""

    class Colour(models.TextChoices):
        WHITE = "white", _("white")
        BUFF = "buff", _("buff")
        GREY = "grey", _("grey")
        RED = "red", _("red")
        BROWN = "brown", _("brown")
        BLACK = "black", _("black")
        SPECKLED = "speckled", _("speckled")

    name = models.CharField(_("name"), max_length=120)
    bisque_cone = ConeField(_("bisque cone"), null=True, blank=True)
    cone_low = ConeField(_("matures from cone"), null=True, blank=True)
    cone_high = ConeField(_("to cone"), null=True, blank=True)
    absorption_percent = models.DecimalField(
        _("absorption %"), max_digits=4, decimal_places=1, null=True, blank=True
    )
    expansion = models.DecimalField(
        _("expansion (1e-6/K, linear)"), max_digits=4, decimal_places=2, null=True, blank=True
    )
    expansion_range_c = models.CharField(_("over (°C)"), max_length=20, blank=True)
    colour = models.CharField(_("fired colour"), max_length=8, choices=Colour, default=Colour.WHITE)
    remark = models.TextField(_("remark"), blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("clay body")
        verbose_name_plural = _("clay bodies")
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="body_name_once",
                violation_error_message=_("There is a clay body of this name already."),
            ),
            models.CheckConstraint(
                condition=Q(cone_low__isnull=True, cone_high__isnull=True)
                | Q(cone_low__isnull=False, cone_high__isnull=False, cone_low__lte=F("cone_high")),
                name="body_cone_range",
                violation_error_message=_("Give both cones, the cooler one first (06 is cooler than 6)."),
            ),
            models.CheckConstraint(
                condition=Q(absorption_percent__isnull=True)
                | Q(absorption_percent__gte=0, absorption_percent__lte=40),
                name="body_absorption_possible",
                violation_error_message=_("Absorption lies between 0 and 40 %%."),
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Kiln(Aggregate):
    """A kiln, what it can reach, and what has been fired in it that others should know of."""

    class Thermocouple(models.TextChoices):
        UNKNOWN = "", _("not known")
        K_STANDARD = "k_standard", _("type K, standard tolerance")
        K_SPECIAL = "k_special", _("type K, special tolerance")
        S_STANDARD = "s_standard", _("type S, standard tolerance")
        S_SPECIAL = "s_special", _("type S, special tolerance")
        OTHER = "other", _("another")

    name = models.CharField(_("name"), max_length=120)
    highest_cone = ConeField(_("highest cone"), null=True, blank=True)
    positions = models.JSONField(_("positions"), default=default_positions, blank=True)
    thermocouple = models.CharField(_("thermocouple"), max_length=10, choices=Thermocouple, blank=True)
    lead_or_cadmium = models.BooleanField(_("lead or cadmium known or suspected"), default=False)
    lustre = models.BooleanField(_("lustre fired in it"), default=False)
    salt = models.BooleanField(_("salt or soda fired in it"), default=False)
    cautions = models.TextField(_("cautions"), blank=True)
    power_kw = models.DecimalField(
        _("power (kW)"),
        max_digits=5,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal("0.1")), MaxValueValidator(500)],
    )
    duty_percent = models.PositiveSmallIntegerField(
        _("on for (% of the climb)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )
    elements_last = models.PositiveSmallIntegerField(
        _("remind of the elements after (firings)"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    thermocouple_last = models.PositiveSmallIntegerField(
        _("remind of the thermocouple after (firings)"),
        null=True,
        blank=True,
        validators=[MinValueValidator(1)],
    )
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        verbose_name = _("kiln")
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="kiln_name_once",
                violation_error_message=_("There is a kiln of this name already."),
            )
        ]

    def __str__(self) -> str:
        return self.name
