"""The shelf as a table for a spreadsheet."""

from typing import Any

from django.utils import timezone

from inventory.register import label_words, place_words
from inventory.sentences import figures, food_words, gravity_words, reason_sentence, use_words
from studio import units

SHELF_COLUMNS = (
    "id",
    "code",
    "place",
    "glaze",
    "kind",
    "use",
    "why",
    "food",
    "label",
    "label condition",
    "level",
    "volume",
    "sg",
    "sg on",
    "mixed or opened on",
    "lot",
    "remark",
    "address",
)


def shelf_cells(bucket: Any, root: str) -> list[Any]:
    """The row of a bucket that was read `for_the_shelf`; `root` goes before its address."""
    fill = bucket.fill
    return [
        bucket.pk,
        bucket.code,
        place_words(bucket),
        *(_cells_of(fill) if fill else [""] * 13),
        bucket.remark,
        f"{root}{bucket.get_absolute_url()}",
    ]


def _cells_of(fill: Any) -> list[Any]:
    found = fill.standing
    why = [reason_sentence(code, **figures(fill)) for code in found.use_reasons + found.notes]
    return [
        fill.glaze.name,
        fill.glaze.get_kind_display(),
        use_words(found.use),
        " ".join(why),
        food_words(found.food),
        label_words(fill),
        fill.label_condition,
        fill.get_level_display(),
        units.volume(fill.balance_ml),
        gravity_words(fill.sg) if fill.sg is not None else "",
        timezone.localtime(fill.sg_at).date().isoformat() if fill.sg_at else "",
        fill.made_on.isoformat() if fill.made_on else "",
        fill.lot,
    ]
