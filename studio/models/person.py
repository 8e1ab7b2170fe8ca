"""People: who logs in, and what their role is."""

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from studio.models.base import Record
from studio.roles import PERSON_ROLES, Role


class PersonManager(BaseUserManager["Person"]):
    def get_by_natural_key(self, username: str | None) -> "Person":
        return self.get(username__iexact=username)


class Person(Record, AbstractBaseUser):
    """Somebody with an account. A leaver is made inactive, never deleted."""

    class TemperatureUnit(models.TextChoices):
        CELSIUS = "c", _("°C")
        FAHRENHEIT = "f", _("°F")

    class Units(models.TextChoices):
        METRIC = "metric", _("grams and litres")
        US = "us", _("ounces and US gallons")

    username = models.CharField(_("log-in name"), max_length=60, unique=True)
    name = models.CharField(_("name"), max_length=120)
    role = models.CharField(
        _("role"), max_length=12, choices=[(r.value, r.label) for r in PERSON_ROLES], default=Role.MEMBER
    )
    is_active = models.BooleanField(_("may log in"), default=True)
    temperature_unit = models.CharField(
        _("temperatures in"), max_length=1, choices=TemperatureUnit, default=TemperatureUnit.CELSIUS
    )
    units = models.CharField(_("weights and volumes in"), max_length=8, choices=Units, default=Units.METRIC)
    # Set when a leaver asked to be forgotten: the name is then 'former member <number>', in the history too.
    former_number = models.PositiveIntegerField(null=True, blank=True, unique=True, editable=False)

    # The short tour is offered until it is put away. Kept here and not in a cookie: it is the person who has seen it,
    # on whatever device, and a browser may be several people's.
    tour_put_away_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects: ClassVar[PersonManager] = PersonManager()
    USERNAME_FIELD = "username"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        verbose_name = _("person")
        verbose_name_plural = _("people")
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                Lower("username"),
                name="person_username_once",
                violation_error_message=_("This log-in name is taken."),
            ),
            models.CheckConstraint(
                condition=models.Q(role__in=[r.value for r in PERSON_ROLES]), name="person_role_known"
            ),
        ]

    def __str__(self) -> str:
        return self.name
