"""Checks of the shelf, for `manage.py doctor`: what is stored against what it is worked out from."""

from decimal import Decimal

from django.db.models import F, Q

from inventory.calc.balance import balance_ml
from inventory.models import Fill, Flag, FlagPhoto
from studio.doctor import files_exist


def balances_agree() -> list[str]:
    """Every stored volume equals a recomputation from the stock entries; an ended fill holds nothing."""
    wrong = []
    for fill in Fill.objects.select_related("glaze", "bucket").prefetch_related("stock_entries"):
        counted = balance_ml(entry.movement for entry in fill.stock_entries.all())
        due = Decimal(0) if fill.ended_at else counted
        if fill.balance_ml != due:
            wrong.append(
                f"{fill}: the volume is kept as {_ml(fill.balance_ml)}, its entries come to {_ml(due)}."
            )
    return wrong


def _ml(volume: Decimal | None) -> str:
    return "unknown" if volume is None else f"{volume} mL"


def flags_agree() -> list[str]:
    """What the database's own constraints cannot see: who closed a flag, and that its moments fit its fill."""
    flags = Flag.objects.select_related("fill__glaze", "fill__bucket")
    return [
        *[
            f"{flag} is closed, but nobody closed it."
            for flag in flags.exclude(outcome="").filter(closed_by=None)
        ],
        *[
            f"{flag} was put right before it began."
            for flag in flags.filter(put_right_at__lt=F("since"), outcome="put_right")
        ],
        *[
            f"{flag} begins after this fill had ended."
            for flag in flags.filter(Q(outcome="") & Q(since__gt=F("fill__ended_at")))
        ],
    ]


def flag_photos_exist() -> list[str]:
    kept = FlagPhoto.objects.select_related("flag__fill__glaze", "flag__fill__bucket")
    return files_exist((str(photo.flag), photo) for photo in kept)
