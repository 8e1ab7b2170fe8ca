"""The register: every fill in use, in the order of the walk, in words. Page, table and API show these same rows."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db.models import Prefetch, QuerySet
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from inventory.hazards import hazard_notes
from inventory.models import Fill, Flag, GlazeSubstance, Label
from inventory.sentences import figures, food_words, gravity_words, reason_sentence, use_words
from inventory.substances import substances_of
from studio import units
from studio.roles import may


@dataclass(frozen=True, kw_only=True)
class RegisterRow:
    """One fill. What is not known is None or empty; size and price are None to whoever may not see them."""

    id: str
    code: str
    place: str
    glaze: str
    kind: str
    lot: str
    made_on: date | None
    label: str
    label_condition: str
    label_read_by: str
    label_read_on: date | None
    flags: list[str]
    use: str
    use_words: str
    use_reasons: list[str]
    food: str
    food_words: str
    food_reasons: list[str]
    sg: str
    sg_on: datetime | None
    sg_window: str
    level: str
    balance_ml: Decimal | None
    volume: str
    health_statement: str
    child_fit: str
    child_fit_read_by: str
    child_fit_read_on: date | None
    container_size: str | None
    price: Decimal | None
    hazards: list[str]
    laboratory: str


PRICE = ("container_size", "price")


def may_see_price(person: Any, fill: Any) -> bool:
    """Size and price of a container are for technicians, and for whose own jar it is."""
    return may(person, "fill.change") or fill.bucket.owner_id == person.pk


def register_fills(person: Any) -> QuerySet:
    """The fills of the register, with everything that a row reads, in a constant number of queries."""
    return (
        Fill.objects.visible_to(person)
        .in_use()
        .select_related(
            "glaze", "bucket__place__parent", "bucket__owner", "label_read_by", "child_fit_read_by"
        )
        .prefetch_related(Prefetch("flags", queryset=Flag.objects.open(), to_attr="open_flags"))
        .with_standing()
        .in_walking_order()
    )


# What apps above know of glazes: `find(keys of glazes, person)` gives the last laboratory result of each, in words.
Find = Callable[[Iterable[Any], Any], dict[Any, str]]
laboratories: list[Find] = []


def register_laboratory(find: Find) -> None:
    if find not in laboratories:
        laboratories.append(find)


def register_rows(fills: Iterable[Any], person: Any) -> list[RegisterRow]:
    """The rows of fills from `register_fills`, in a constant number of queries."""
    fills = list(fills)
    glazes = {fill.glaze_id: fill.glaze for fill in fills}
    substances: dict[Any, list] = substances_of(glazes.values())
    tested: dict[Any, str] = {}
    for find in laboratories:
        tested |= find(glazes, person)
    return [_row(fill, person, substances[fill.glaze_id], tested.get(fill.glaze_id, "")) for fill in fills]


def _row(fill: Any, person: Any, substances: list[GlazeSubstance], laboratory: str) -> RegisterRow:
    found, buys = fill.standing, may_see_price(person, fill)
    return RegisterRow(
        id=str(fill.pk),
        code=fill.bucket.code,
        place=place_words(fill.bucket),
        glaze=fill.glaze.name,
        kind=str(fill.glaze.get_kind_display()),
        lot=fill.lot,
        made_on=fill.made_on,
        label=label_words(fill),
        label_condition=fill.label_condition,
        label_read_by=fill.label_read_by.name if fill.label_read_by else "",
        label_read_on=fill.label_read_on,
        flags=[_flag_words(flag) for flag in fill.open_flags],
        use=found.use,
        use_words=use_words(found.use),
        use_reasons=_sentences(fill, found.use_reasons + found.notes),
        food=found.food,
        food_words=food_words(found.food),
        food_reasons=_sentences(fill, found.food_reasons),
        sg=gravity_words(fill.sg) if fill.sg is not None else "",
        sg_on=fill.sg_at,
        sg_window=_window(fill),
        level=str(fill.get_level_display()) if fill.level else "",
        balance_ml=fill.balance_ml,
        volume=units.volume(fill.balance_ml),
        health_statement=fill.glaze.health_statement,
        child_fit=_child_words(fill),
        child_fit_read_by=fill.child_fit_read_by.name if fill.child_fit_read_by else "",
        child_fit_read_on=fill.child_fit_read_on,
        container_size=fill.container_size if buys else None,
        price=fill.price if buys else None,
        hazards=[note.line for note in hazard_notes(substances)],
        laboratory=laboratory,
    )


def place_words(bucket: Any) -> str:
    """'Glaze room, long shelf', or whose own jar it is."""
    if bucket.place:
        return ", ".join(str(place) for place in (bucket.place.parent, bucket.place) if place)
    return _("own jar of %(name)s") % {"name": bucket.owner.name} if bucket.owner else ""


def label_words(fill: Any) -> str:
    """The container's words as a quotation; of what was mixed here, that there is none."""
    if fill.label:
        return str(Label(fill.label).label)
    return _("mixed here, no label") if fill.glaze.origin == "mixed" else ""


def _child_words(fill: Any) -> str:
    if fill.glaze.origin == "mixed":
        return _("mixed here: no container names it fit for children")
    return str(fill.get_child_fit_display()) if fill.child_fit else ""


def _flag_words(flag: Flag) -> str:
    if flag.since is None:
        return _("%(kind)s, since when is not known") % {"kind": flag.get_kind_display()}
    day = date_format(timezone.localdate(flag.since), "j M Y")
    return _("%(kind)s, since %(day)s") % {"kind": flag.get_kind_display(), "day": day}


def _sentences(fill: Any, codes: tuple[str, ...]) -> list[str]:
    return [reason_sentence(code, **figures(fill)) for code in codes]


def _window(fill: Any) -> str:
    if fill.sg_low is None or fill.sg_high is None:
        return ""
    return _("%(low)s to %(high)s") % {"low": gravity_words(fill.sg_low), "high": gravity_words(fill.sg_high)}


COLUMNS = [field.name for field in fields(RegisterRow)]


def cells(row: RegisterRow) -> list[Any]:
    """A row for a spreadsheet, in the order of COLUMNS."""
    return [_cell(getattr(row, name)) for name in COLUMNS]


def _cell(value: Any) -> Any:
    if isinstance(value, list):
        return "; ".join(value)
    if isinstance(value, datetime):
        return timezone.localtime(value).isoformat(timespec="minutes")
    return value.isoformat() if isinstance(value, date) else value
