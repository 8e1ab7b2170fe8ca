"""What a plan would come to before anybody fires it: how long, which cone, and what there is to say about it."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from tiles.calc.heat_work import HeatWork, HeatWorkError, heat_work
from tiles.calc.pace import ASSUMED, Pace, rate_at
from tiles.calc.schedule import START_C, Segment, left_to_itself, legs, path, segments_of
from tiles.calc.schedule_findings import ScheduleFacts, WareFacts, schedule_findings
from tiles.kiln_logs import climbed_fastest, newest_logs
from tiles.models import Firing, Kiln, Piece, Schedule, TileFiring
from tiles.planning import FoundSentence, in_words

MATTE = ("matte", "dry")


@dataclass(frozen=True, slots=True)
class Prediction:
    """A plan reckoned through. `heat` None: it stays too cool to reckon with.

    `pace` is what 'as fast as it goes' was taken for, `is_of_kiln` that it is this kiln's own, and `is_assumed` that
    the plan climbs so at all; `cools_by_itself` that how it cools is taken for granted too.
    """

    segments: tuple[Segment, ...]
    minutes: float
    heat: HeatWork | None
    pace: Pace
    is_of_kiln: bool
    is_assumed: bool
    cools_by_itself: bool

    @property
    def first_c_per_h(self) -> float:
        return rate_at(START_C, self.pace)

    @property
    def fastest_c_per_h(self) -> float:
        """Near its top, where it matters to the cones."""
        return rate_at(max(segment.to_c for segment in self.segments) - 1, self.pace)


def predict(rows: Any, kiln: Kiln | None = None) -> Prediction:
    """Of segments as they are kept. In a kiln without a log of its own a usual climb is assumed."""
    segments = segments_of(rows)
    # Only a climb without a rate asks for the kiln's own logs.
    asks = kiln is not None and any(segment.rate_c_per_h is None for segment in segments)
    own = climbed_fastest(newest_logs([kiln]).get(kiln.pk, [])) if kiln and asks else ()
    return _predict(segments, own or ASSUMED, bool(own))


@lru_cache(maxsize=256)
def _predict(segments: tuple[Segment, ...], pace: Pace, is_of_kiln: bool) -> Prediction:
    minutes, celsius = path(segments, pace=pace)
    try:
        heat = heat_work(*left_to_itself(minutes, celsius))
    except HeatWorkError:
        heat = None
    taken = [leg for leg in legs(segments, pace=pace) if leg.is_assumed]
    climbs, cools = (any(leg.is_cooling is way for leg in taken) for way in (False, True))
    return Prediction(segments, float(minutes[-1]), heat, pace, is_of_kiln, climbs, cools)


def schedule_said(schedule: Schedule, prediction: Prediction) -> list[FoundSentence]:
    """What there is to say of a schedule alone, before it is known what is fired by it and where."""
    return _said(prediction, kind=schedule.kind, target=schedule.target_cone)


def plan_said(firing: Firing, prediction: Prediction, rows: Iterable[TileFiring]) -> list[FoundSentence]:
    """The same of a firing's plan, with its kiln and its load; `rows` are the tiles that the person may see."""
    rows = list(rows)
    pieces = firing.pieces.filter(taken_out_at=None).select_related("body")
    return _said(
        prediction,
        kind=firing.kind,
        target=firing.target_cone,
        kiln_high=firing.kiln.highest_cone,
        glazes=_glazes(firing, rows),
        bodies=_bodies(rows, pieces),
    )


def _said(prediction: Prediction, **known: Any) -> list[FoundSentence]:
    heat = prediction.heat
    facts = ScheduleFacts(
        segments=prediction.segments,
        low=heat.low if heat else None,
        high=heat.high if heat else None,
        pace=prediction.pace,
        **known,
    )
    return [in_words(finding) for finding in schedule_findings(facts)]


def _glazes(firing: Firing, rows: list[TileFiring]) -> list[WareFacts]:
    """What melts in this firing: layers that went on for it, or that no firing has melted yet."""
    layers = [layer for row in rows for layer in row.tile.layers.all()]
    melts = {
        layer.glaze.name: layer.glaze
        for layer in layers
        if layer.precedes_id in (None, firing.pk) and layer.glaze.kind != "wax"
    }
    return [
        WareFacts(name=name, cone_low=g.cone_low, cone_high=g.cone_high, is_matte=g.surface in MATTE)
        for name, g in sorted(melts.items())
    ]


def _bodies(rows: list[TileFiring], pieces: Iterable[Piece]) -> list[WareFacts]:
    bodies = {body.name: body for body in [row.tile.body for row in rows] + [p.body for p in pieces] if body}
    return [
        WareFacts(name=name, cone_low=body.cone_low, cone_high=body.cone_high)
        for name, body in sorted(bodies.items())
    ]
