"""The layers of ware as the food-contact rules ask for them, out of buckets, labels, flags and what glazes hold."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.utils import timezone

from inventory.came_in import CameIn, came_in, lots_of
from inventory.models import Fill, Flag, Glaze, GlazeSubstance, Label
from inventory.reach import Spell
from inventory.substances import substances_of
from tiles.calc.food_facts import FAVOURABLE, FoodLayer
from tiles.models import Layer

AGAINST_FOOD = (Flag.Kind.CONTAMINATED, Flag.Kind.WRONG_LABEL, Flag.Kind.NOT_FOR_FOOD)


@dataclass(frozen=True, kw_only=True)
class Coat:
    """What lies or would lie on ware. `at`: when it was put on, None not known; `is_now`: it would be put on now.

    Without a fill a container against food is asked of every bucket in which the glaze ever stood; `any_bucket` asks
    also for the flags of those in use, and `label_of_any` for what else their labels say.
    """

    glaze: Glaze
    fill: Fill | None = None
    at: datetime | None = None
    is_now: bool = True
    position: int = 0
    area: str = "whole"
    is_wiped_back: bool = False
    stirred_in: Glaze | None = None
    any_bucket: bool = False
    label_of_any: bool = False
    came_in: tuple[CameIn, ...] = ()

    @property
    def lots(self) -> set[str]:
        """As a report would name them; of a mixture none, because no report is of that."""
        if self.fill is None or self.came_in:
            return set()
        return lots_of(self.fill)


def coat_of(layer: Layer) -> Coat:
    return Coat(
        glaze=layer.glaze,
        fill=layer.fill,
        at=layer.applied_at,
        is_now=False,
        position=layer.position,
        area=layer.area,
        is_wiped_back=layer.wiped_back,
        stirred_in=layer.stirred_in,
    )


def without_wax(coats: Iterable[Coat]) -> list[Coat]:
    """Wax burns out: it is no layer of the fired ware."""
    return [coat for coat in coats if coat.glaze.kind != Glaze.Kind.WAX]


def with_what_came_in(coats: Iterable[Coat]) -> list[Coat]:
    """Each with what else was in its bucket by the time when it came out of it; an unknown time is after all of it."""
    told = list(coats)
    found = came_in(coat.fill for coat in told if coat.fill)
    return [
        replace(
            coat, came_in=tuple(one for one in found[coat.fill.pk] if coat.at is None or one.at <= coat.at)
        )
        if coat.fill
        else coat
        for coat in told
    ]


def food_layers(coats: Sequence[Coat], over_alone: dict[int, tuple[str, ...]]) -> tuple[FoodLayer, ...]:
    """Each coat as the rules see it, in three queries. `over_alone`: reports by the coat's place in `coats`."""
    inside = substances_of([g for coat in coats for g in (coat.glaze, coat.stirred_in) if g])
    standing: dict[Any, list[Fill]] = {}
    asked = [coat.glaze.pk for coat in coats if coat.fill is None]
    asked += [coat.stirred_in.pk for coat in coats if coat.stirred_in]
    for fill in Fill.objects.filter(glaze__in=asked).select_related("bucket") if asked else ():
        standing.setdefault(fill.glaze_id, []).append(fill)
    fills = {coat.fill.pk for coat in coats if coat.fill} | {f.pk for rows in standing.values() for f in rows}
    flags: dict[Any, list[Flag]] = {}
    raised = Flag.objects.never_lifted().filter(fill__in=fills, kind__in=AGAINST_FOOD)
    for flag in raised.select_related("fill__bucket").order_by("created_at"):
        flags.setdefault(flag.fill_id, []).append(flag)
    return tuple(
        _layer(coat, inside, standing, flags, over_alone.get(index, ())) for index, coat in enumerate(coats)
    )


def _layer(
    coat: Coat,
    inside: dict[Any, list[GlazeSubstance]],
    standing: dict[Any, list[Fill]],
    flags: dict[Any, list[Flag]],
    over_alone: tuple[str, ...],
) -> FoodLayer:
    of_glaze = [] if coat.fill else standing.get(coat.glaze.pk, [])
    stirred = standing.get(coat.stirred_in.pk, []) if coat.stirred_in else []
    here = [coat.fill] if coat.fill else [fill for fill in of_glaze if _is_in_use(fill) and coat.any_bucket]
    label, condition = _label(coat, [*of_glaze, *stirred], here)
    held = [row for g in (coat.glaze, coat.stirred_in) if g for row in inside[g.pk]]
    return FoodLayer(
        name=coat.glaze.name,
        kind=coat.glaze.kind,
        position=coat.position,
        area=coat.area,
        is_wiped_back=coat.is_wiped_back,
        label=label,
        condition=condition,
        flags=tuple(said for fill in here for said in _flags(coat, flags.get(fill.pk, []))),
        substances=tuple((row.substance, _number(row.percent), row.read_in) for row in held),
        over_alone=over_alone,
        stirred_in=coat.stirred_in.name if coat.stirred_in else "",
        added=tuple(dict.fromkeys(one.material for one in coat.came_in if one.material)),
        cone_low=coat.glaze.cone_low,
        cone_high=coat.glaze.cone_high,
    )


def _number(percent: Any) -> float | None:
    return None if percent is None else float(percent)


def _is_in_use(fill: Fill) -> bool:
    return fill.ended_at is None and fill.bucket.archived_at is None


def _flags(coat: Coat, flags: Iterable[Flag]) -> Iterable[tuple[str, str, str]]:
    """At the time of use, or since: one that is open keeps away what was taken before it too, until it is cleared."""
    for flag in flags:
        spell = Spell(fill=flag.fill, since=flag.since, until=flag.put_right_at, flag=flag)
        held = spell.holds_at(timezone.now() if coat.is_now else coat.at)
        if held or flag.is_open:
            when = "now" if coat.is_now else "then" if held else "since"
            yield flag.kind, flag.fill.bucket.code, when


def _label(coat: Coat, standing: list[Fill], here: list[Fill]) -> tuple[str, str]:
    """What is printed, the worst of it where several containers speak; one against food counts for ever.

    `standing`: every container out of which it can have come, with those of what was stirred in.
    """
    if coat.fill is not None and coat.fill.label == Label.NOT_FOR_FOOD:
        return Label.NOT_FOR_FOOD, ""
    if any(fill.label == Label.NOT_FOR_FOOD for fill in standing):
        return Label.NOT_FOR_FOOD, ""
    if coat.glaze.origin == Glaze.Origin.MIXED:
        return ("mixed" if here or coat.label_of_any else "mixed_no_bucket"), ""
    if not here or (coat.fill is None and not coat.label_of_any):
        return "no_bucket", ""
    for label in ("", Label.NONE):
        if any(fill.label == label for fill in here):
            return label, ""
    quoted = next(fill for fill in here if fill.label in FAVOURABLE)
    return quoted.label, quoted.label_condition
