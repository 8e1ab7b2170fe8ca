"""Which labels were printed, and with what on them."""

import uuid
from collections.abc import Mapping

from django.db import transaction
from django.utils import timezone

from inventory.actions.jars import act_on
from inventory.models import Bucket
from studio.actions import check, record_change, touch
from studio.models import Person
from studio.roles import require


@transaction.atomic
def note_labels_printed(*, by: Person, buckets: Mapping[Bucket, str]) -> list[Bucket]:
    """Note of each bucket what its printed label says: the words of the paper, whatever is in the bucket by now."""
    batch, now = uuid.uuid4(), timezone.now()
    for bucket in sorted(buckets, key=lambda b: b.pk.hex):
        require(by, act_on(bucket, by, "bucket.change"))
        touch(bucket)
        bucket.refresh_from_db()
        before = bucket.label_printed_text
        bucket.label_printed_at, bucket.label_printed_text = now, buckets[bucket]
        check(bucket).save(update_fields=["label_printed_at", "label_printed_text"])
        record_change(
            by=by,
            verb="printed the label",
            obj=bucket,
            before={"label": before},
            after={"label": bucket.label_printed_text},
            batch=batch,
        )
    return list(buckets)
