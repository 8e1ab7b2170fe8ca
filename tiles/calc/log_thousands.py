"""Marks that part the thousands of a number: '1,222.5', '1.222,5', '1 222' and, as far as a column tells, '1,222'."""

import re
from collections.abc import Sequence

import numpy as np

_SURE = re.compile(
    r"[+-]?\d{1,3}"
    r"(?:(?:[ \u00a0\u202f'’]\d{3})+(?:[.,]\d+)?|(?:,\d{3})+\.\d+|(?:\.\d{3})+,\d+|(?:,\d{3}){2,}|(?:\.\d{3}){2,})"
)
_PERHAPS = re.compile(r"[+-]?\d{1,3}[.,]\d{3}")
_PARTED = re.compile(r"\d[ \u00a0\u202f'’.,]\d{3}(?!\d)")


def is_grouped(cell: str) -> bool:
    """Whether it is a number with its thousands parted, beyond doubt.

    >>> [is_grouped(cell) for cell in ("1,222.5", "1.222,5", "1 222", "1'222", "1,222", "20.5")]
    [True, True, True, True, False, False]
    """
    return bool(_SURE.fullmatch(cell))


def ungrouped(cells: Sequence[str]) -> Sequence[str]:
    """A column without the marks that part its thousands.

    '1,222' alone may be either. Where every point or comma of a column stands before three digits, it is read in the
    way in which the column jumps about less: 998, 999, 1,000 goes on, and so does 1, 1.333, 1.667, 2.

    >>> ungrouped(["999.5", "1,000.5"]), ungrouped(["998", "999", "1,000"]), ungrouped(["1", "1.333", "1.667", "2"])
    (['999.5', '1000.5'], ['998', '999', '1000'], ['1', '1.333', '1.667', '2'])
    """
    if not any(map(_PARTED.search, cells)):
        return cells
    plain = [_without(cell) if is_grouped(cell.strip()) else cell for cell in cells]
    marked = [cell.strip() for cell in plain if "." in cell or "," in cell]
    if not marked or not all(map(_PERHAPS.fullmatch, marked)):
        return plain
    whole = [cell.replace(",", "").replace(".", "") for cell in plain]
    # Where every cell is marked both jump alike, but for the last digits of the reckoning.
    clearly_less = _jumps([cell.replace(",", ".") for cell in plain]) * (1 - 1e-9)
    return whole if _jumps(whole) < clearly_less else plain


def _without(cell: str) -> str:
    """The last mark is the decimals' where another one comes before it, or where not just three digits follow it."""
    text = cell.strip()
    last = max(text.rfind("."), text.rfind(","))
    is_decimal = last >= 0 and (len(text) - last != 4 or any(mark in " \u00a0\u202f'’" for mark in text))
    is_decimal |= {".", ","} <= set(text)
    digits = re.sub(r"[ \u00a0\u202f'’.,]", "", text[:last] if is_decimal else text)
    return digits + text[last:] if is_decimal else digits


def _jumps(cells: Sequence[str]) -> float:
    """How far a column goes up and down in all, in parts of its span; cells without a number are passed over."""
    found = []
    for cell in cells:
        try:
            found.append(float(cell))
        except ValueError:
            continue
    return float(np.abs(np.diff(found)).sum() / max(np.ptp(found), 1e-9)) if found else 0.0
