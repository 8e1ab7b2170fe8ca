"""A tablet at the glaze table: it stays signed in as a device, and people step up to it with a PIN."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from studio.models.base import Record
from studio.models.person import Person


class Station(Record):
    """A device that a technician set up. Its cookie holds the secret; only the digest is stored."""

    name = models.CharField(_("where it stands"), max_length=80)
    digest = models.CharField(max_length=64, unique=True, editable=False)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    last_used_at = models.DateTimeField(_("last used"), null=True, editable=False)
    closed_at = models.DateTimeField(null=True, editable=False)

    class Meta:
        verbose_name = _("station")
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class Pin(models.Model):
    """A person's short PIN for stations. After too many wrong ones it sleeps for a while."""

    person = models.OneToOneField(Person, primary_key=True, on_delete=models.CASCADE, related_name="pin")
    hash = models.CharField(max_length=128)
    wrong = models.PositiveSmallIntegerField(default=0)
    sleeps_until = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return str(self.person)
