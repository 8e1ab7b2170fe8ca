"""What stands on a lid's label, and which labels no longer say what is in their bucket."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.utils.translation import gettext as _

from inventory.models import Bucket
from inventory.qr import QrPath, qr_path
from inventory.sentences import food_words

KEPT = "keep_from_food"


@dataclass(frozen=True)
class LidLabel:
    """One label: the code, what is in the bucket, whether to keep it from food, and the address that lives for ever."""

    code: str
    glaze: str
    keep: str
    address: str
    qr: QrPath

    @property
    def text(self) -> str:
        return text_of(self.glaze, self.keep)


def text_of(glaze: str, keep: str) -> str:
    """The lines under the code, as `Bucket.label_printed_text` keeps them."""
    return f"{glaze}\n{keep}" if keep else glaze


def lid_labels(buckets: Iterable[Bucket]) -> list[LidLabel]:
    """The labels of buckets that were read `with_fill`; none as long as no public address is set.

    Its use is not printed, because that changes by the hour; a warning about food rarely does.
    """
    if not settings.PUBLIC_URL:
        return []
    return [_label(bucket, *said) for bucket, said in _now(buckets)]


def _label(bucket: Bucket, glaze: str, keep: str) -> LidLabel:
    address = settings.PUBLIC_URL.rstrip("/") + bucket.get_absolute_url()
    return LidLabel(bucket.code, glaze, keep, address, qr_path(address))


def _now(buckets: Iterable[Bucket]) -> list[tuple[Bucket, tuple[str, str]]]:
    """What each label would say now: the glaze, and whether to keep it from food.

    Kept from food is what is labelled or flagged so, and what holds a toxic element by anybody's reading.
    """
    found = []
    for bucket in buckets:
        fill: Any = bucket.fill
        keep = food_words(KEPT) if fill is not None and fill.food == KEPT else ""
        found.append((bucket, (fill.glaze.name if fill else "", keep)))
    return found


def whys(buckets: Iterable[Bucket]) -> list[tuple[Bucket, str]]:
    """Of buckets read `with_fill`, why each label is to be printed (again); '' when it still says what is in it."""
    return [(bucket, _why(bucket, *said)) for bucket, said in _now(buckets)]


def _why(bucket: Bucket, glaze: str, keep: str) -> str:
    printed = bucket.label_printed_text
    if bucket.label_printed_at is None or printed is None:
        return _("Never printed.")
    was, _newline, kept = printed.partition("\n")
    if was != glaze:
        names = {"was": was or _("nothing"), "now": glaze or _("nothing")}
        return _("Its label says %(was)s; in it now: %(now)s.") % names
    if keep and not kept:
        return _("It is to be kept away from food now, and its label does not say so.")
    if kept and not keep:
        return _("Its label says to keep it away from food, and that is no longer noted.")
    return ""
