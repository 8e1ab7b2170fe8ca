"""What a laboratory wrote down, read figure by figure: '0.12', '0,12' or '<0.02'."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from tiles.calc.leach_limits import METALS, UNITS

_WRITTEN = re.compile(r"(<?)\s*([0-9]{1,7}(?:[.,][0-9]{0,12})?|[.,][0-9]{1,12})")
# 1,200: in one country a little over one, in another more than a thousand.
_TWO_WAYS = re.compile(r"<?\s*[1-9][0-9]{0,2},[0-9]{3}")
KEYS = {f"{name}_{unit}": (symbol, unit) for symbol, name in METALS.items() for unit in UNITS}


class LeachError(ValueError):
    """Figures that cannot be judged: `code` says why, `params` which and what is known instead."""

    def __init__(self, code: str, **params: object) -> None:
        super().__init__(code)
        self.code = code
        self.params = params


@dataclass(frozen=True, slots=True)
class Released:
    """What one piece released; `is_below`: `amount` is the limit of detection. In mg/L or mg/dm² (`unit`)."""

    piece: int
    amount: Decimal
    is_below: bool
    unit: str


def parse_amount(value: object) -> tuple[Decimal, bool]:
    """The figure, and whether it is only an upper bound: 0 or more. A float is taken to nine decimals, its noise cut.

    Raises LeachError: not_a_number, negative, two_ways (1,200 may be a thousand or one).

    >>> parse_amount("<0,02")
    (Decimal('0.02'), True)
    """
    if isinstance(value, float):
        value = f"{value:.9f}"
    text = str(value).strip()
    if text.startswith("-"):
        raise LeachError("negative", text=text[:20])
    if isinstance(value, bool) or not (found := _WRITTEN.fullmatch(text)):
        raise LeachError("not_a_number", text=text[:20])
    if _TWO_WAYS.fullmatch(text):
        raise LeachError("two_ways", text=text[:20])
    return Decimal(found[2].replace(",", ".")), bool(found[1])


def read_results(results: Sequence[Mapping[str, Any]]) -> dict[str, list[Released]]:
    """Metal -> what the pieces released, numbered from 1; a value None was not measured.

    Raises LeachError: no_results, unknown_key, not_a_number, negative, two_ways, both_units.
    """
    read: dict[str, list[Released]] = {}
    for piece, result in enumerate(results, start=1):
        for key, value in result.items():
            if key not in KEYS:
                raise LeachError("unknown_key", field="results", piece=piece, key=str(key), known=list(KEYS))
            if value is None:
                continue
            metal, unit = KEYS[key]
            try:
                released = Released(piece, *parse_amount(value), unit)
            except LeachError as error:
                raise LeachError(error.code, field="results", piece=piece, key=key, **error.params) from error
            if any(other.unit != unit for other in read.get(metal, [])):
                raise LeachError("both_units", field="results", piece=piece, metal=metal)
            read.setdefault(metal, []).append(released)
    if not read:
        raise LeachError("no_results", field="results")
    return read
