"""What there is to say about a schedule, alone or with what is to be fired by it, as codes with parameters.

The sentences are in tiles/schedule_sentences.py, the figures in fixtures/firing_rates.csv. A rule that lacks a fact
says nothing, and what is predicted counts only where its whole interval lies on one side.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inventory.calc.cones import SELF_SUPPORTING, Cone, celsius
from tiles.calc.findings import LEVELS, Finding
from tiles.calc.firing_kinds import GLAZE_FIRINGS
from tiles.calc.firing_rates import rate, usual_cone
from tiles.calc.pace import ASSUMED, Pace, climbing, rate_at
from tiles.calc.schedule import Leg, Segment, legs

RULES = {  # code: (level, what it rests on)
    "segment_above_kiln": ("stop", "studio_record"),
    "predicted_above_kiln": ("stop", "studio_record"),
    "predicted_off_target": ("warn", "heat_work"),
    "predicted_outside_body": ("warn", "heat_work"),
    "predicted_outside_glaze": ("warn", "heat_work"),
    "climb_unlikely": ("warn", "common_practice"),
    "drying_quick": ("warn", "controller_manual"),
    "quartz_fast": ("note", "controller_manual"),
    "quartz_cooled_fast": ("warn", "quartz"),
    "bisque_tight": ("warn", "common_practice"),
    "hold_short": ("note", "controller_manual"),
    "hold_long": ("note", "cone_leaflet"),
    "no_slow_cooling": ("note", "common_practice"),
}
NEAR_QUARTZ_C = 10.0  # a thermocouple does not know it better
NEAR_TOP_C = 60.0  # a hold a little below the top, on the way down, heals a glaze too
SLOW_HOLD_MIN = 15.0


@dataclass(frozen=True, kw_only=True, slots=True)
class WareFacts:
    """A glaze or a clay body of the load; a cone that is not known is None."""

    name: str
    cone_low: Cone | None = None
    cone_high: Cone | None = None
    is_matte: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class ScheduleFacts:
    """A schedule with what is known of its kiln and load.

    `low` and `high` are the interval of the predicted cone, None where it cannot be said.
    """

    segments: Sequence[Segment]
    kind: str = "glaze"
    target: Cone | None = None
    low: Cone | None = None
    high: Cone | None = None
    kiln_high: Cone | None = None
    glazes: Sequence[WareFacts] = ()
    bodies: Sequence[WareFacts] = ()
    pace: Pace = ASSUMED


def schedule_findings(facts: ScheduleFacts) -> tuple[Finding, ...]:
    """Everything to say, gravest first.

    >>> [finding.code for finding in schedule_findings(ScheduleFacts(segments=[Segment(80, 1240, 5)]))]
    ['hold_short']
    """
    run = legs(facts.segments, pace=facts.pace)
    if not run:
        return ()
    rules = (_kiln, _target, _ware, _climb, _drying, _quartz, _bisque, _hold, _slow_cooling)
    found = [finding for rule in rules for finding in rule(facts, run)]
    return tuple(sorted(found, key=lambda finding: -LEVELS.index(finding.level)))


def _finding(code: str, field: str, level: str = "", **params: object) -> Finding:
    usual, source = RULES[code]
    return Finding(code, level or usual, tuple(params.items()), field, source)


def _segment(leg: Leg) -> str:
    return f"segments.{leg.number}"


def _side(facts: ScheduleFacts, low: Cone | None, high: Cone | None) -> str:
    """On which side of a range the whole prediction lies; '' when part of it lies within, or either is not known."""
    if facts.low and high and facts.low > high:
        return "above"
    return "below" if facts.high and low and facts.high < low else ""


def _kiln(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """A target hotter than the kiln's highest cone ends even when climbed to fast is out of its reach."""
    if not facts.kiln_high:
        return
    most = celsius(facts.kiln_high, SELF_SUPPORTING, 150) or celsius(facts.kiln_high, SELF_SUPPORTING, 60)
    top = max(run, key=lambda leg: leg.to_c)
    if most and top.to_c > most:
        yield _finding("segment_above_kiln", _segment(top), to=top.to_c, kiln_high=facts.kiln_high)
    elif facts.low and facts.low > facts.kiln_high:
        cones = (facts.low, facts.high)
        yield _finding("predicted_above_kiln", "segments", predicted=cones, kiln_high=facts.kiln_high)


def _target(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    side = _side(facts, facts.target, facts.target)
    if side:
        cones = (facts.low, facts.high)
        yield _finding("predicted_off_target", "target_cone", predicted=cones, target=facts.target, side=side)


def _ware(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """A bisque is cooler than its body's range on purpose, and melts no glaze."""
    matures = facts.kind in GLAZE_FIRINGS
    wares = [("predicted_outside_body", ware, matures) for ware in facts.bodies]
    if matures:
        wares += [("predicted_outside_glaze", ware, True) for ware in facts.glazes]
    for code, ware, both in wares:
        side = _side(facts, ware.cone_low if both else None, ware.cone_high)
        if side:
            yield _finding(
                code,
                "segments",
                name=ware.name,
                range=(ware.cone_low, ware.cone_high),
                predicted=(facts.low, facts.high),
                side=side,
            )


def _climb(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """A rate that hardly any kiln can follow: it lags, and the cone that is reckoned is not the one it will reach."""
    climbs = (leg for leg in run if leg.to_c > leg.from_c and not leg.is_assumed)
    steepest = max(climbs, key=_rate, default=None)
    if steepest and steepest.rate_c_per_h > rate("climb_most"):
        most = rate("climb_most")
        yield _finding("climb_unlikely", _segment(steepest), rate=steepest.rate_c_per_h, most=most)


def _drying(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    dry_c = rate("drying_to_c")
    if facts.kind != "bisque":
        return
    leg = next((leg for leg in run if leg.to_c > dry_c), None)
    if leg is None:
        return
    minutes = leg.from_min + max(dry_c - leg.from_c, 0) / leg.rate_c_per_h * 60
    if leg.is_assumed and leg.from_c < dry_c:
        minutes = leg.from_min + climbing(leg.from_c, dry_c, facts.pace)[-1][0]
    if minutes < rate("drying_least_min"):
        least = rate("drying_least_min")
        yield _finding("drying_quick", _segment(leg), minutes=minutes, least=least, to=dry_c)


def _quartz(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """Up, greenware and bisque are told apart; down, only a rate that somebody gave: nobody cools a kiln by a None."""
    through = [leg for leg in run if _meets(leg, rate("quartz_c"), NEAR_QUARTZ_C)]
    quartz_c = rate("quartz_c")
    climbs = [
        (rate_at(quartz_c, facts.pace) if leg.is_assumed else leg.rate_c_per_h, leg)
        for leg in through
        if not leg.is_cooling
    ]
    fastest, up = max(climbs, key=lambda climb: climb[0], default=(0.0, None))
    if up and fastest > rate("quartz_up_most"):
        level = "warn" if facts.kind == "bisque" else "note"
        yield _finding(
            "quartz_fast",
            _segment(up),
            level,
            rate=fastest,
            most=rate("quartz_up_most"),
            quartz=quartz_c,
        )
    down = max((leg for leg in through if leg.is_cooling and not leg.is_assumed), key=_rate, default=None)
    if down and down.rate_c_per_h > rate("quartz_down_most"):
        most = rate("quartz_down_most")
        yield _finding(
            "quartz_cooled_fast",
            _segment(down),
            rate=down.rate_c_per_h,
            most=most,
            quartz=quartz_c,
        )


def _rate(leg: Leg) -> float:
    return leg.rate_c_per_h


def _meets(leg: Leg, middle_c: float, near_c: float) -> bool:
    """Whether the leg moves within so many degrees of a temperature."""
    low, high = sorted((leg.from_c, leg.to_c))
    return low < middle_c + near_c and high > middle_c - near_c and low < high


def _bisque(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """By the prediction; without one, by the cone that it is meant for."""
    reached = facts.low or facts.target
    most = usual_cone("bisque_hottest")
    if facts.kind == "bisque" and reached and reached > most:
        yield _finding("bisque_tight", "segments", cone=reached, most=most)


def _hold(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    if facts.kind not in GLAZE_FIRINGS:
        return
    top = max(run, key=lambda leg: leg.to_c)
    held = sum(leg.hold_min for leg in run if leg.to_c >= top.to_c - NEAR_TOP_C and leg.number >= top.number)
    if held < rate("hold_least_min"):
        yield _finding("hold_short", _segment(top), minutes=held, least=rate("hold_least_min"))
    elif held > rate("hold_most_min"):
        yield _finding("hold_long", _segment(top), minutes=held)


def _slow_cooling(facts: ScheduleFacts, run: Sequence[Leg]) -> Iterator[Finding]:
    """For a glaze that is to come out matte: a slow ramp down, or a stay, somewhere in the zone."""
    mattes = tuple(ware.name for ware in facts.glazes if ware.is_matte)
    if not mattes or facts.kind not in GLAZE_FIRINGS:
        return
    low, high = rate("matte_to_c"), rate("matte_from_c")
    middle, near = (low + high) / 2, (high - low) / 2
    for leg in run:
        slow = not leg.is_assumed and leg.rate_c_per_h <= rate("matte_slow_most")
        stays = low <= leg.to_c <= high and leg.hold_min >= SLOW_HOLD_MIN
        if leg.is_cooling and (stays or (slow and _meets(leg, middle, near))):
            return
    most = rate("matte_slow_most")
    yield _finding("no_slow_cooling", "segments", names=mattes, zone_from=high, zone_to=low, most=most)
