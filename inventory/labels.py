"""What stands on a lid's label, and which labels no longer say what is in their bucket."""

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


def lid_label(bucket: Bucket, fill: Any) -> LidLabel | None:
    """The label of a bucket whose fill was read `with_standing`; None as long as no public address is set.

    Its use is not printed, because that changes by the hour; a warning about food rarely does.
    """
    if not settings.PUBLIC_URL:
        return None
    address = settings.PUBLIC_URL.rstrip("/") + bucket.get_absolute_url()
    glaze, keep = _now(fill)
    return LidLabel(bucket.code, glaze, keep, address, qr_path(address))


def _now(fill: Any) -> tuple[str, str]:
    if fill is None:
        return "", ""
    return fill.glaze.name, food_words(KEPT) if fill.food == KEPT else ""


def why_print(bucket: Bucket) -> str:
    """Why the label of a bucket, read `with_fill`, is to be printed (again); '' when it still says what is in it."""
    printed = bucket.label_printed_text
    if bucket.label_printed_at is None or printed is None:
        return _("Never printed.")
    glaze, keep = _now(bucket.fill)
    was, _newline, kept = printed.partition("\n")
    if was != glaze:
        names = {"was": was or _("nothing"), "now": glaze or _("nothing")}
        return _("Its label says %(was)s; in it now: %(now)s.") % names
    if keep and not kept:
        return _("It is to be kept away from food now, and its label does not say so.")
    if kept and not keep:
        return _("Its label says to keep it away from food, and that is no longer noted.")
    return ""
