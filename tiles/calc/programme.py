"""What to programme so that a shelf sees a cone, from the shelf's offset; and when that cannot be said."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from inventory.calc.cones import Cone, celsius_at_60
from tiles.calc.kiln_offset import ShelfOffset

# Neighbouring cones are usually 20 °C apart (Dodd & Murfin, Dictionary of Ceramics): wider than that, nothing is told.
WIDEST_C = 20.0


@dataclass(frozen=True, slots=True)
class Between:
    """A temperature as a cone: the hottest whole cone not above it, and the way from there to the next (0 to 1)."""

    cone: Cone
    fraction: float
    next: Cone | None


@dataclass(frozen=True, slots=True)
class Limit:
    """A cone that must not be passed, and whose it is: a body or glaze of the load, or '' for the kiln itself."""

    cone: Cone
    whose: str


@dataclass(frozen=True, slots=True)
class Programme:
    """What to set. `code` '' is advice; anything else says why there is none, with `limit` where one stops it.

    `shift_c` is what to add to what is set now for that cone; `at` is the same as a cone on the instrument, None
    where that is cooler than the coolest cone. The interval ends where a limit or the next cone does, though the
    shelf may want more. `sees` is the cone that the shelf sees when the load's limit is set, where that is what
    stops the advice.
    `hotter` are shelves that would then see more than the load takes, each with the cone it would see.
    """

    code: str
    asked: Cone
    position: str
    shift_c: float | None = None
    low_c: float | None = None
    high_c: float | None = None
    at: Between | None = None
    limit: Limit | None = None
    hotter: tuple[tuple[str, Between], ...] = ()
    sees: Between | None = None


def whole_cones() -> list[tuple[Cone, int]]:
    """Every whole cone with its end point in °C at 60 °C/h, coolest first."""
    found = [(cone, celsius_at_60(cone)) for cone in Cone.all() if not cone.is_half]
    return [(cone, celsius) for cone, celsius in found if celsius is not None]


def cone_at(celsius: float) -> Between | None:
    """A temperature at the end of a climb of 60 °C/h as a cone with fraction; None below 022 and above 14.

    Straight between the published end points (fixtures/cones.csv).

    >>> cone_at(1222).cone.code, cone_at(1230.5).fraction, cone_at(500)
    ('6', 0.5, None)
    """
    ladder = whole_cones()
    for (cone, low), (above, high) in pairwise(ladder):
        if low <= celsius < high:
            return Between(cone, (celsius - low) / (high - low), above)
    return Between(ladder[-1][0], 0.0, None) if celsius == ladder[-1][1] else None


def programme(
    asked: Cone,
    shelf: ShelfOffset,
    shelves: Iterable[ShelfOffset],
    kiln_high: Cone | None,
    load: Iterable[Limit],
) -> Programme:
    """What to set for `asked` to come true on `shelf`, in °C at 60 °C/h and as a cone.

    The shelf is hotter by its offset than the instrument says, so the offset is taken off. In this order nothing is
    told: 'no_history'; 'unknown_cone' (no end point is published); 'cannot_say' (80 % interval over WIDEST_C);
    'kiln_unknown', 'kiln_limit', 'load_limit' (what would be set, or was asked, is past one); 'more_than_a_cone'.

    >>> at = ShelfOffset("middle", -8, -8, -12, -4, 3, 9)
    >>> advice = programme(Cone.parse("6"), at, [at], Cone.parse("8"), [])
    >>> advice.shift_c, advice.at.cone.code, round(advice.at.fraction, 2)
    (8, '6', 0.47)
    """

    def without(code: str, limit: Limit | None = None) -> Programme:
        return Programme(code, asked, shelf.position, limit=limit)

    if not shelf.cones:
        return without("no_history")
    end = celsius_at_60(asked)
    if end is None or (next_up := _next_up(asked)) is None:
        return without("unknown_cone")
    if shelf.high_c - shelf.low_c > WIDEST_C:
        return without("cannot_say")
    if kiln_high is None:
        return without("kiln_unknown")
    to_set = end - shelf.median_c
    limits = [Limit(kiln_high, ""), *sorted(load, key=lambda limit: limit.cone)]
    for limit in limits:
        if asked > limit.cone or _hotter(max(to_set, end), limit.cone):
            if not limit.whose:
                return without("kiln_limit", limit)
            top = _ends_at(limit.cone)
            sees = None if top is None else cone_at(top + shelf.median_c)
            return replace(without("load_limit", limit), sees=sees)
    if to_set > next_up:
        return without("more_than_a_cone")
    at = cone_at(to_set)
    seen = [(one.position, cone_at(to_set + one.median_c)) for one in shelves if one.cones]
    hotter = tuple(
        (position, cone)
        for position, cone in seen
        if cone and position != shelf.position and any(_past(cone, limit.cone) for limit in limits[1:])
    )
    most = min([next_up, *(top for limit in limits if (top := _ends_at(limit.cone)) is not None)]) - end
    low, high = -shelf.high_c, min(-shelf.low_c, most)
    return Programme("", asked, shelf.position, -shelf.median_c, low, high, at, limits[0], hotter)


def _next_up(cone: Cone) -> int | None:
    """End point of the next whole cone."""
    return next((celsius for above, celsius in whole_cones() if above > cone), None)


def _ends_at(cone: Cone) -> int | None:
    """A limit in °C; of a half cone that of the whole one below."""
    return celsius_at_60(cone) or celsius_at_60(cone.whole_below())


def _hotter(celsius: float, cone: Cone) -> bool:
    limit = _ends_at(cone)
    return limit is None or celsius > limit


def _past(between: Between, cone: Cone) -> bool:
    return between.cone > cone or (between.cone == cone and between.fraction > 0)
