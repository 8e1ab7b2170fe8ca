"""A member's own jar: what others need a technician for, its owner may do."""

from typing import Any

from inventory.models import Bucket


def act_on(bucket: Bucket, person: Any, act: str) -> str:
    """The act of the role table that `person` needs for `act` on this bucket."""
    return "fill.own_jar" if bucket.owner_id is not None and bucket.owner_id == person.pk else act
