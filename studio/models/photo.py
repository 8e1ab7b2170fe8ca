"""What every record of a kept photo holds."""

from django.conf import settings
from django.db import models

from studio.models.base import Record


class StoredPhoto(Record):
    """A photo whose files lie under a random key and are only ever streamed by the service."""

    key = models.CharField(max_length=64, unique=True, editable=False)
    kind = models.CharField(max_length=4, editable=False)
    width = models.PositiveIntegerField(editable=False)
    height = models.PositiveIntegerField(editable=False)
    sha256 = models.CharField(max_length=64, editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False
    )

    class Meta:
        abstract = True
