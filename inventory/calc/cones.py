"""Pyrometric cones as one ordered type: a rank in half steps, never a text and never a bare number.

Cones run 022 (coolest) .. 01, then 1 .. 14. The nought makes a cone cooler, so neither text nor plain
numbers sort them; the rank does. Temperatures come from fixtures/cones.csv (fixtures/SOURCES.md).
"""

import re
from dataclasses import dataclass
from functools import lru_cache

from inventory.calc.fixtures import path_of, rows

LOWEST_RANK, HIGHEST_RANK = -42, 28  # 022 and 14
NO_HALF = 1  # the step between 01 and 1, where no cone stands
SELF_SUPPORTING = "self-supporting regular"
TABLE = path_of("cones")

_WRITTEN = re.compile(r"(?:\^|cone|c)?\s*([0-9]{1,4})(\s*½|\s+1/2|\.5)?", re.IGNORECASE)


class ConeError(ValueError):
    """A text is no cone, or a range runs backwards: `code` says which, `params` what was given."""

    def __init__(self, code: str, **params: object) -> None:
        super().__init__(code)
        self.code = code
        self.params = params


@dataclass(frozen=True, order=True, slots=True)
class Cone:
    """One cone by its rank: n >= 1 -> 2n, 0n -> 2 - 2n, a half between its neighbours.

    Valid from 022 to 14 without the step between 01 and 1; anything else raises ConeError.

    >>> Cone.parse("06") < Cone.parse("05½") < Cone.parse("05") < Cone.parse("^6")
    True
    """

    rank: int

    def __post_init__(self) -> None:
        if type(self.rank) is not int or not LOWEST_RANK <= self.rank <= HIGHEST_RANK or self.rank == NO_HALF:
            raise ConeError("no_such_rank", rank=self.rank)

    @classmethod
    def parse(cls, text: object) -> "Cone":
        """Read a cone as people write it: 6, 06, ^6, c6, cone 6, 5 1/2, 5½, 5.5, 05½.

        Raises ConeError: not_text (a bare number is never a cone), blank, not_a_cone, no_such_cone.

        >>> Cone.parse("Cone 05 1/2").code
        '05.5'
        """
        if not isinstance(text, str):
            raise ConeError("not_text", value=text)
        written = text.strip()
        if not written:
            raise ConeError("blank")
        shown = written[:20]
        match = _WRITTEN.fullmatch(written)
        if not match:
            raise ConeError("not_a_cone", text=shown)
        digits, half = match[1], int(bool(match[2]))
        number = int(digits)
        if number == 0 or digits.startswith("00"):
            raise ConeError("no_such_cone", text=shown)
        steps = 2 * number + half
        try:
            return cls(2 - steps if digits.startswith("0") else steps)
        except ConeError:
            raise ConeError("no_such_cone", text=shown) from None

    @classmethod
    def all(cls) -> "tuple[Cone, ...]":
        """Every cone of this type, coolest first: the whole ones and the halves between them."""
        return tuple(cls(rank) for rank in range(LOWEST_RANK, HIGHEST_RANK + 1) if rank != NO_HALF)

    @property
    def code(self) -> str:
        """The canonical ASCII code: '022', '05.5', '6'."""
        cooler = self.rank < NO_HALF
        number, half = divmod(2 - self.rank if cooler else self.rank, 2)
        return f"{'0' if cooler else ''}{number}{'.5' if half else ''}"

    @property
    def label(self) -> str:
        """The code as it is shown: '05½'."""
        return self.code.replace(".5", "½")

    def __str__(self) -> str:
        return self.label

    @property
    def is_half(self) -> bool:
        """True for cones like 05½."""
        return self.rank % 2 == 1

    def whole_below(self) -> "Cone":
        """The hottest whole cone that is not hotter than this one: 5½ -> 5, 05½ -> 06, 6 -> 6."""
        return Cone(self.rank - 1) if self.is_half else self


@dataclass(frozen=True, slots=True)
class ConeRange:
    """From one cone to another, both included. Raises ConeError 'reversed_range'.

    >>> ConeRange(Cone.parse("5"), Cone.parse("6")).label
    '5–6'
    """

    low: Cone
    high: Cone

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise ConeError("reversed_range", low=self.low, high=self.high)

    def contains(self, cone: Cone) -> bool:
        """True when the cone is one of the ends or lies between them."""
        return self.low <= cone <= self.high

    def meets(self, other: "ConeRange") -> bool:
        """True when at least one cone lies in both ranges."""
        return self.low <= other.high and other.low <= self.high

    @property
    def label(self) -> str:
        """'5–6', and a range of one cone only once: '6'."""
        return self.low.label if self.low == self.high else f"{self.low.label}–{self.high.label}"

    def __str__(self) -> str:
        return self.label


@lru_cache(maxsize=1)
def _table() -> dict[tuple[Cone, str, int], int]:
    return {
        (Cone.parse(row["cone"]), row["type"], int(row["rate_c_per_h"])): int(row["temp_c"])
        for row in rows("cones")
    }


def celsius(cone: Cone, cone_type: str, rate_c_per_h: int) -> int | None:
    """End point in °C (tip level with the base) when the last 100 °C climb at `rate_c_per_h`.

    A look-up, no formula: None where fixtures/cones.csv has no such cell. Source: fixtures/SOURCES.md.

    >>> celsius(Cone.parse("13"), "self-supporting regular", 150)
    1348
    """
    return _table().get((cone, cone_type, rate_c_per_h))


def published() -> dict[str, dict[tuple[Cone, float], float]]:
    """Every cell of fixtures/cones.csv by type of cone: (cone, °C/h) -> end point in °C.

    >>> published()[SELF_SUPPORTING][Cone.parse("6"), 60]
    1222.0
    """
    found: dict[str, dict[tuple[Cone, float], float]] = {}
    for (cone, cone_type, rate_c_per_h), degrees in _table().items():
        found.setdefault(cone_type, {})[cone, float(rate_c_per_h)] = float(degrees)
    return found


def celsius_at_60(cone: Cone) -> int | None:
    """End point in °C of the self-supporting regular cone at 60 °C/h; None for most half cones.

    This is the figure shown beside every cone. Source: fixtures/SOURCES.md.

    >>> celsius_at_60(Cone.parse("6")), celsius_at_60(Cone.parse("4.5"))
    (1222, None)
    """
    return celsius(cone, SELF_SUPPORTING, 60)


def unlikely_twin(cone: Cone) -> Cone | None:
    """The cone written alike but for the nought (6 <-> 06), to ask 'did you mean'; from 1/01 to 10/010.

    >>> unlikely_twin(Cone.parse("06")).code
    '6'
    """
    twin_rank = 2 - cone.rank
    if max(cone.rank, twin_rank) > 20:  # cones 11..14 and 011..022 are not mistaken for each other
        return None
    return Cone(twin_rank)
