"""Published figures beside which a released metal is shown, from fixtures/yardsticks.csv (SOURCES.md).

None of them is a limit for ceramics. An acid soak of 24 hours is far harsher than use, and drinking water is
drunk by the litre for life: a comparison is a yardstick, either way.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any

from inventory.calc.fixtures import rows


@dataclass(frozen=True, slots=True)
class Yardstick:
    """`value` in mg/L, or in mg/kg of food (`unit`); `of` says what it holds for; `mark`: read, read-2nd, memory."""

    metal: str
    yardstick: str
    value: Decimal
    unit: str
    of: str
    mark: str
    read_on: str
    citation: str


@dataclass(frozen=True, slots=True)
class Compared:
    """The most that a piece released in mg/L, beside one yardstick: `times` it. Below detection, at most so many."""

    yardstick: Yardstick
    amount: Decimal
    is_below: bool
    times: Decimal


@lru_cache
def published() -> tuple[Yardstick, ...]:
    """Every yardstick of the table; a look-up, no formula.

    >>> sorted(stick.mark for stick in published() if stick.metal == "Co")
    ['read', 'read-2nd', 'read-2nd']
    """
    return tuple(_yardstick(row) for row in rows("yardsticks"))


def _yardstick(row: dict[str, Any]) -> Yardstick:
    return Yardstick(**(row | {"value": Decimal(row["value"])}))


def compare(metal: str, amounts: Iterable[tuple[Decimal, bool]]) -> list[Compared]:
    """The highest of the amounts (mg/L, and whether it is a limit of detection) over each yardstick of the metal.

    1 kg of food is taken as 1 L. A figure is a ratio and nothing else; metals without a yardstick give none. Source:
    the table's. The Council of Europe's 0.02 mg/kg of cobalt is a fifth of the enamel standard's 0.1 mg/L.

    >>> [str(compared.times) for compared in compare("Co", [(Decimal("0.1"), False)])]
    ['1', '5', '1']
    """
    # Of two alike the measured one says more.
    found = max(amounts, key=lambda amount: (amount[0], not amount[1]), default=None)
    if found is None:
        return []
    return [Compared(s, *found, found[0] / s.value) for s in published() if s.metal == metal]
