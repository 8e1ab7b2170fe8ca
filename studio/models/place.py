"""The studio itself: one row of what `setup` asked and the manager may change."""

from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models.person import Person


def known_time_zone(value: str) -> None:
    if value not in available_timezones():
        raise ValidationError(
            _("%(value)s is not a time zone: write one such as Europe/Dublin."), params={"value": value}
        )


class Studio(models.Model):
    """The one studio of this service (id 1)."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    version = models.PositiveIntegerField(default=1, editable=False)
    name = models.CharField(_("name of the studio"), max_length=120)
    time_zone = models.CharField(_("time zone"), max_length=60, default="UTC", validators=[known_time_zone])
    language = models.CharField(_("language"), max_length=10, default="en")
    temperature_unit = models.CharField(
        _("temperatures in"),
        max_length=1,
        choices=Person.TemperatureUnit,
        default=Person.TemperatureUnit.CELSIUS,
    )
    units = models.CharField(
        _("weights and volumes in"), max_length=8, choices=Person.Units, default=Person.Units.METRIC
    )
    bucket_pages_open = models.BooleanField(
        _("bucket pages open to visitors"),
        default=True,
        help_text=_("A scanned lid then shows name, standing and cautions without log-in; never people."),
    )
    open_wall_open = models.BooleanField(
        _("open wall open to visitors"),
        default=True,
        help_text=_(
            "Tiles that their makers put on the open wall are then shown without log-in; never people."
        ),
    )
    sg_stale_after_days = models.PositiveSmallIntegerField(
        _("a specific gravity is old after (days)"),
        default=30,
        validators=[MinValueValidator(1), MaxValueValidator(365)],
    )
    station_locks_after_seconds = models.PositiveSmallIntegerField(
        _("a station locks itself after (seconds)"),
        default=90,
        validators=[MinValueValidator(15), MaxValueValidator(900)],
    )
    opening_c = models.PositiveSmallIntegerField(
        _("a kiln is opened below (°C)"),
        default=50,
        validators=[MinValueValidator(30), MaxValueValidator(204)],
        help_text=_(
            "Published figures run from 93 to 204 °C, the lowest of a kiln maker is 120 °C; some studios wait for"
            " less than 38 °C. The manual of your kiln comes first."
        ),
    )
    price_per_kwh = models.DecimalField(
        _("price of a kWh"),
        max_digits=7,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    currency = models.CharField(
        _("currency"), max_length=8, blank=True, help_text=_("As it is to stand behind a price, such as EUR.")
    )
    is_demo = models.BooleanField(default=False, editable=False)

    class Meta:
        verbose_name = _("studio")
        constraints = [models.CheckConstraint(condition=models.Q(id=1), name="studio_only_one")]

    def __str__(self) -> str:
        return self.name

    @classmethod
    def current(cls) -> "Studio":
        """The studio, or an unsaved one with the defaults before `setup` has run."""
        return cls.objects.filter(pk=1).first() or cls(name="Tilekeep")
