"""The food-contact record of a glaze, a bucket, a tile, a combination and a planned pot: facts, handed to the rules.

The rules are tiles/calc/food; nothing is concluded here. A verdict is never kept, so that it cannot grow old.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils import timezone
from django.utils.formats import date_format

from inventory.calc.cones import Cone
from inventory.models import Fill, Glaze, Surface
from studio.models import Person
from tiles.calc.food import food_lines, verdict
from tiles.calc.food_facts import KEPT_AWAY, FoodLayer, Heat, Ware
from tiles.calc.zones import combination_key
from tiles.food_layers import AGAINST_FOOD, Coat, coat_of, food_layers, with_what_came_in, without_wax
from tiles.food_reports import Asked, Found, Near, find_reports
from tiles.food_sentences import BESIDE, ORNAMENTAL, VERDICTS, food_sentence, food_source
from tiles.kiln_cautions import kiln_cautions
from tiles.models import ClayBody, Combination, Firing, HomeTrial, Kiln, Layer, Outcome, Tile, TileFiring

MOST_LAYERS = 8  # of a planned pot
FLAT = ("top", "middle", "bottom")  # a flat test tile: all that is not foot
HOLLOW = (
    "inside",
    "outside",
    "lip",
)  # what has one of these sides holds something: food lies inside and on the lip


@dataclass(frozen=True, slots=True)
class FoodLine:
    """One reason: its verdict ('' has no say), its sentence, and what it rests on."""

    code: str
    verdict: str
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class FoodRecord:
    """What is known of something and food, with every reason, the gravest first. There is no word for 'fit' here."""

    verdict: str
    lines: tuple[FoodLine, ...]
    near: tuple[Near, ...]

    @property
    def words(self) -> str:
        return str(VERDICTS[self.verdict])

    @property
    def beside(self) -> list[tuple[str, str]]:
        """What is always said beside it, each with its source; how ornamental ware is marked, where it is kept away."""
        said = [*BESIDE, ORNAMENTAL] if self.verdict == KEPT_AWAY else BESIDE
        return [(str(sentence), str(source)) for sentence, source in said]


@dataclass(frozen=True, kw_only=True)
class PotLayer:
    """A layer of a planned pot: out of a bucket, or only which glaze it would be; what it goes onto, and what is to be
    stirred into it.
    """

    glaze: Glaze
    fill: Fill | None = None
    area: str = "whole"
    ground: str = ""
    stirred_in: Glaze | None = None


def record_of_glaze(glaze: Glaze) -> FoodRecord:
    """A glaze by itself: what is in it, and what the labels and flags of its buckets say; never on record."""
    return _by_itself("glaze", [Coat(glaze=glaze, any_bucket=True, label_of_any=True)])


def record_of_fill(fill: Fill) -> FoodRecord:
    """What is in a bucket now (or was when it ended); never on record, because a test is of fired ware."""
    coat = Coat(glaze=fill.glaze, fill=fill)
    if fill.ended_at is not None:
        coat = replace(coat, is_now=False, at=fill.ended_at)
    return _by_itself("fill", [coat])


def record_of_combination(combination: Combination, person: Any) -> FoodRecord:
    """Glazes over one another, with what was seen on the tiles that the person may see; never on record."""
    parts = combination.parts.select_related("glaze").order_by("position")
    coats = [
        Coat(glaze=part.glaze, any_bucket=True, label_of_any=True, position=n)
        for n, part in enumerate(parts, start=1)
    ]
    looks = _looks(combination, Tile.objects.visible_to(person))
    return _by_itself("combination", coats, faults=_faults(looks, _tile_words), is_dry=_is_dry(looks))


def record_of_tile(tile: Tile) -> FoodRecord:
    """One tile with all that was done to it. Only a report on this very tile puts it on record."""
    rows = tile.layers.select_related("glaze", "fill__bucket", "fill__glaze", "stirred_in").order_by(
        "position"
    )
    coats = with_what_came_in(without_wax(coat_of(layer) for layer in rows))
    firings: Any = tile.tile_firings.select_related("firing__kiln").order_by("firing__number")
    begun = [row for row in firings if row.firing.state in Firing.BEGUN]
    fired = [row for row in begun if row.firing.state != Firing.State.FIRING]
    # What is in the kiln still was tested before, if at all.
    changed = [timezone.localdate(row.firing.unloaded_at) for row in begun]
    changed += [timezone.localdate(coat.at) for coat in coats if coat.at]
    reports = find_reports(
        Asked(
            coats=coats,
            body=tile.body,
            cone=tile.cone,
            form=tile.form,
            tile=tile,
            since=max(changed, default=None),
        )
    )
    layers = food_layers(coats, reports.over_alone)
    is_hollow = any(layer.area in HOLLOW for layer in layers)
    hot = [row for row in fired if row.firing.kind != Firing.Kind.BISQUE]
    heated = [row for row in begun if row.firing.kind != Firing.Kind.BISQUE]
    looks = list(tile.outcomes.prefetch_related("faults"))
    marks = tile.flag_marks.filter(undone_at=None, flag__kind__in=AGAINST_FOOD)
    ware = Ware(
        what="tile",
        layers=layers,
        food_side=("inside",) if is_hollow else FLAT,
        has_lip=is_hollow,
        heats=tuple(_heat(row) for row in hot),
        firings=len(heated) + _bisqued_after(heated, begun),
        kilns=kiln_cautions(row.firing.kiln for row in begun),
        faults=_faults(looks, _look_words),
        is_dry=_is_dry(looks),
        marks=tuple(marks.values_list("flag__kind", flat=True)),
        trials=_trials(tile),
    )
    return _record(ware, reports)


def record_of_pot(
    layers: Sequence[PotLayer],
    body: ClayBody | None = None,
    cone: Cone | None = None,
    form: str = "",
    *,
    kiln: Kiln | None = None,
    person: Person | None = None,
) -> FoodRecord:
    """A pot that is only planned. What was seen on tiles of its layers is told; without `person`, of shared tiles."""
    coats = without_wax(
        Coat(
            glaze=layer.glaze,
            fill=layer.fill,
            area=layer.area,
            position=n,
            stirred_in=layer.stirred_in,
            any_bucket=layer.fill is None,
        )
        for n, layer in enumerate(layers, start=1)
    )
    coats = with_what_came_in(coats)
    reports = find_reports(Asked(coats=coats, body=body, cone=cone, form=form))
    key = combination_key(coat.glaze.pk.hex for coat in coats)
    combination = Combination.objects.filter(key=key).first() if coats else None
    shared = Tile.objects.exclude(visibility=Tile.Visibility.MINE)
    tiles = Tile.objects.visible_to(person) if person is not None else shared
    looks = _looks(combination, tiles.filter(body=body) if body else tiles) if combination else []
    ware = Ware(
        what="pot",
        layers=food_layers(coats, reports.over_alone),
        food_side=("inside",),
        has_lip=True,
        heats=(Heat(cone, "chosen"),) if cone else (),
        firings=2 if any(layer.ground == Layer.Ground.FIRED for layer in layers) else 1,
        kilns=kiln_cautions([kiln] if kiln else []),
        kilns_to_ask=() if kiln else _kilns_to_ask(),
        faults=_faults(looks, _tile_words),
        is_dry=_is_dry(looks),
    )
    return _record(ware, reports)


def _by_itself(what: str, coats: list[Coat], **seen: Any) -> FoodRecord:
    coats = with_what_came_in(coats)
    reports = find_reports(Asked(coats=coats, is_ware=False))
    layers: tuple[FoodLayer, ...] = food_layers(coats, reports.over_alone)
    return _record(Ware(what=what, layers=layers, **seen), reports)


def _record(ware: Ware, reports: Found) -> FoodRecord:
    lines = food_lines(replace(ware, reports=reports.reports))
    said = tuple(FoodLine(line.code, line.verdict, food_sentence(line), food_source(line)) for line in lines)
    return FoodRecord(verdict(lines), said, reports.near)


def _bisqued_after(hot: list[TileFiring], fired: list[TileFiring]) -> int:
    """How often it stood in a bisque firing with melted glaze on it: that changes a glaze as any firing does."""
    first = min((row.firing.started_at for row in hot if row.firing.started_at), default=None)
    bisqued = [row.firing.started_at for row in fired if row.firing.kind == Firing.Kind.BISQUE]
    return sum(bool(first and at and at > first) for at in bisqued)


def _kilns_to_ask() -> tuple[str, ...]:
    named = kiln_cautions(Kiln.objects.filter(archived_at=None).order_by("name"))
    return tuple(dict.fromkeys(name for name, _reason in named))


def _heat(row: TileFiring) -> Heat:
    kind = "overglaze" if row.firing.kind == Firing.Kind.OVERGLAZE else "glaze"
    return Heat(row.cone, row.cone_basis, row.firing.log_cone, kind)


def _looks(combination: Combination, tiles: Any) -> list[Outcome]:
    """Every look at a part that carries the combination, or at a whole tile on which nothing else lies."""
    whole = Outcome.objects.filter(zone=Outcome.Zone.WHOLE, combination=None)
    alone = whole.filter(tile__zones__combination=combination, tile__zones__kind="whole")
    of_it = Outcome.objects.filter(combination=combination) | alone
    return list(of_it.filter(tile__in=tiles).distinct().select_related("tile").prefetch_related("faults"))


def _faults(looks: list[Outcome], words: Callable[[Outcome, Any], str]) -> tuple[tuple[str, str], ...]:
    """Each kind of fault once, with where it was seen."""
    found: dict[str, dict[str, None]] = {}
    for look in looks:
        for fault in look.faults.all():
            found.setdefault(fault.kind, {})[words(look, fault)] = None
    return tuple((kind, ", ".join(sorted(places))) for kind, places in sorted(found.items()))


def _look_words(look: Outcome, fault: Any) -> str:
    return f"{date_format(look.looked_on, 'j F Y')} {fault.where_words}".strip()


def _tile_words(look: Outcome, fault: Any) -> str:
    return str(look.tile)


def _is_dry(looks: list[Outcome]) -> bool:
    return any(look.surface == Surface.DRY for look in looks)


def _trials(tile: Tile) -> tuple[tuple[str, str, str], ...]:
    rows = HomeTrial.objects.filter(tile=tile, taken_back_at=None)
    return tuple((row.kind, row.result, f"{row.get_kind_display()}, {row.done}") for row in rows)
