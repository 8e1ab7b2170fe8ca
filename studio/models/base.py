"""Bases of every record: a UUID that may be given by the client, and a version for what is edited as one."""

import uuid

from django.db import models
from django.utils import timezone


class Record(models.Model):
    """One row with a public UUID and the moment it was written."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    created_at = models.DateTimeField(default=timezone.now, editable=False, db_index=True)

    class Meta:
        abstract = True


class Aggregate(Record):
    """A record edited as one with its parts; `version` is its ETag, raised by `actions.touch` only."""

    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        abstract = True
