"""A tile's story as it happened: firing by firing, what was put on before it and what was seen after."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Prefetch
from django.utils import timezone

from tiles.models import HomeTrial, Layer, Outcome, OutcomeFault, Photo, Tile, TileFiring
from tiles.record import cone_and_basis


@dataclass(slots=True)
class Chapter:
    """One firing (None: what no firing has seen, or nobody knows which), its layers and looks, the oldest first."""

    row: TileFiring | None = None
    saw: str = ""
    layers: list[Layer] = field(default_factory=list)
    looks: list[Outcome] = field(default_factory=list)
    taken_back: list[Outcome] = field(default_factory=list)
    trials: list[HomeTrial] = field(default_factory=list)


def story(tile: Tile) -> list[Chapter]:
    """The chapters of a tile that was read `for_the_wall`, in a constant number of queries.

    What waits in a planned firing comes after all that have been fired; layers and looks of no firing come last.
    """
    rows = tile.tile_firings.select_related("firing__kiln")
    chapters: dict[Any, Chapter] = {
        row.firing_id: Chapter(row, cone_and_basis(row, row.cone_below)) for row in _in_order(rows)
    }
    loose = Chapter()
    for layer in sorted(tile.layers.all(), key=lambda layer: layer.position):
        chapters.get(layer.precedes_id, loose).layers.append(layer)
    for look in sorted(_looks(tile), key=lambda look: (look.looked_on, look.created_at)):
        chapter = chapters.get(look.firing_id, loose)
        (chapter.taken_back if look.taken_back_at else chapter.looks).append(look)
    for trial in tile.home_trials.standing().order_by("begun_on", "created_at"):
        _last_before(trial, chapters.values(), loose).trials.append(trial)
    told = loose.layers or loose.looks or loose.taken_back or loose.trials
    return [*chapters.values(), loose] if told else [*chapters.values()]


def _last_before(trial: HomeTrial, chapters: Iterable[Chapter], loose: Chapter) -> Chapter:
    """The last firing that the tile had come out of when the trial began."""
    out = [c for c in chapters if c.row and c.row.firing.unloaded_at]
    done = [c for c in out if timezone.localdate(c.row.firing.unloaded_at) <= trial.begun_on]  # type: ignore[union-attr]
    return done[-1] if done else loose


def _in_order(rows: Iterable[TileFiring]) -> list[TileFiring]:
    def key(row: Any) -> tuple[bool, Any, int]:
        began = row.firing.started_at
        return (began is None, began.timestamp() if began else 0, row.firing.number)

    return sorted(rows, key=key)


def faults_as_noted() -> Prefetch:
    """The faults of looks, also of those that were taken back, whose faults count no more."""
    return Prefetch("faults", OutcomeFault.with_taken_back.all())


def _looks(tile: Tile) -> Iterable[Outcome]:
    shown = Prefetch("photos", Photo.objects.filter(archived_at=None).order_by("created_at"))
    looks = Outcome.with_taken_back.filter(tile=tile)
    return looks.select_related("by", "taken_back_by", "firing", "combination").prefetch_related(
        faults_as_noted(), "combination__parts__glaze", shown
    )
