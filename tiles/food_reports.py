"""Which laboratory reports speak of ware, and how nearly. Only an exact match can put ware on record."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from inventory.calc.cones import Cone
from inventory.models import Glaze
from tiles.calc.food_facts import Report
from tiles.calc.leach import Judged
from tiles.calc.zones import REGIONS_OF_AREA
from tiles.food_layers import Coat
from tiles.laboratory import is_judged_milder, judged, over_by
from tiles.laboratory_sentences import CATEGORIES, STANDARDS
from tiles.models import ClayBody, LabReport, Tile

NEAR_SHOWN = 10
DIFFERS = {
    "ware": _("it is of other ware, not of this tile"),
    "since": _("this was glazed or fired on that day or since"),
    "layers": _("other layers, or in another order"),
    "areas": _("the layers lay elsewhere, or the report does not say where each lay"),
    "lot": _("another lot, a mixture of lots, or a lot that nobody noted"),
    "batch": _(
        "it was tested before this batch was mixed, or came into a bucket with no day of mixing noted"
    ),
    "body": _("another clay body, or one that nobody noted"),
    "cone": _("another cone, or one that nobody noted"),
    "form": _("another form, or one that nobody noted"),
    "not_ware": _("a report is of fired ware"),
}
VERDICTS = {
    "over": _("over the limit"),
    "within": _("within the limit"),
    "more-pieces-needed": _("more pieces needed"),
    "cannot-say": _("cannot say"),
    None: _("cannot be judged"),
}


@dataclass(frozen=True, slots=True)
class Near:
    """A report of ware that is near to this: it lifts nothing. `differs`: in what, in words."""

    report: LabReport
    words: str
    verdict: str | None
    differs: tuple[str, ...]

    @property
    def verdict_words(self) -> str:
        return str(VERDICTS[self.verdict])


@dataclass(frozen=True, slots=True)
class Stack:
    """The layers of a report, or of ware: glazes from the clay outwards, without wax, with the lots of each."""

    glazes: tuple[Any, ...]
    lots: tuple[frozenset[str], ...]
    areas: tuple[str, ...] = ()

    @property
    def is_known(self) -> bool:
        return bool(self.glazes)

    @property
    def says_where(self) -> bool:
        """Where each layer lay. One that nobody placed is alone on the ware, and on all of it."""
        return all(self.areas) or len(self.areas) == 1

    def by_region(self) -> dict[str, list[int]]:
        """Which layers lie on each region (calc.zones), from the clay outwards; those side by side have no order."""
        found: dict[str, list[int]] = {}
        for index, area in enumerate(self.areas):
            for region in REGIONS_OF_AREA[area or "whole"]:
                found.setdefault(region, []).append(index)
        return found

    def pairs(self, other: "Stack") -> set[tuple[int, int]] | None:
        """Each layer with the one in its place on the other ware; None where the two differ in any place."""
        mine, theirs = self.by_region(), other.by_region()
        if mine.keys() != theirs.keys():
            return None
        found: set[tuple[int, int]] = set()
        for region, here in mine.items():
            there = theirs[region]
            if [self.glazes[n] for n in here] != [other.glazes[n] for n in there]:
                return None
            found |= set(zip(here, there, strict=True))
        return found


@dataclass(frozen=True, kw_only=True)
class Asked:
    """The ware of which is asked. `tile`: this very tile; `since`: when it last changed."""

    coats: Sequence[Coat]
    body: ClayBody | None = None
    cone: Cone | None = None
    form: str = ""
    tile: Tile | None = None
    since: date | None = None
    is_ware: bool = True

    @property
    def stack(self) -> Stack:
        return Stack(
            tuple(coat.glaze.pk for coat in self.coats),
            tuple(frozenset(coat.lots) for coat in self.coats),
            tuple(coat.area for coat in self.coats),
        )


@dataclass(frozen=True)
class Found:
    """What was found: for the rules, for the reader, and by layer what was over in ware of its glaze alone."""

    reports: tuple[Report, ...]
    near: tuple[Near, ...]
    over_alone: dict[int, tuple[str, ...]]


def find_reports(asked: Asked) -> Found:
    """The reports that count, in three queries however many there are."""
    of_it = Q(layers__glaze__in=[coat.glaze.pk for coat in asked.coats])
    if asked.tile is not None:
        of_it |= Q(tile=asked.tile)
    rows = LabReport.objects.standing().filter(of_it).with_parts().distinct()
    counted, near = [], []
    alone: dict[int, tuple[str, ...]] = {}
    for report in rows.order_by("-tested_on", "-created_at"):
        found, words, stack = judged(report), report_words(report), _stack_of(report)
        verdict = found.verdict if found else None
        if verdict == "over":
            for index in _alone(asked.coats, stack):
                alone[index] = (*alone.get(index, ()), words)
        differs = _differences(asked, report, stack)
        is_hidden = _is_hidden(asked, report)
        if differs is None or (is_hidden and verdict != "over"):
            continue
        counted.append(_counted(asked, report, words, found, is_exact=not differs))
        if differs and not is_hidden:
            said = tuple(str(DIFFERS[code]) for code in differs)
            near.append(Near(report, words, verdict, said))
    return Found(tuple(counted), tuple(near[:NEAR_SHOWN]), alone)


def _is_hidden(asked: Asked, report: LabReport) -> bool:
    """Of a tile that its maker keeps to themselves: then only what was over the limit is told, without the tile."""
    if report.tile is None or report.tile == asked.tile:
        return False
    return report.tile.visibility == Tile.Visibility.MINE


def report_words(report: LabReport) -> str:
    """Laboratory and number, day, standard and kind of ware."""
    parts = [f"{report.laboratory} {report.report_number}".strip(), date_format(report.tested_on, "j F Y")]
    judged_by = [STANDARDS[report.standard], CATEGORIES[report.category]]
    return ", ".join([*parts, *(str(words) for words in judged_by)])


def _counted(asked: Asked, report: LabReport, words: str, found: Judged | None, *, is_exact: bool) -> Report:
    if found is None:
        return Report(words, is_exact, None)
    lifts = is_exact and found.verdict == "within"
    return Report(
        words,
        is_exact,
        found.verdict,
        found.is_boundary,
        found.has_lead_and_cadmium,
        found.is_unverified or found.is_rule_unverified,
        lifts and is_judged_milder(report, asked.form),
        over_by(report) if lifts else (),
    )


def _stack_of(report: LabReport) -> Stack:
    layers = [layer for layer in report.layers.all() if layer.glaze.kind != Glaze.Kind.WAX]
    lots = tuple(frozenset({lot} if (lot := layer.lot.strip().casefold()) else ()) for layer in layers)
    areas = tuple(layer.area for layer in layers)
    return Stack(tuple(layer.glaze_id for layer in layers), lots, areas)


def _alone(coats: Sequence[Coat], stack: Stack) -> list[int]:
    """Which of the coats are of the one glaze that the tested ware had, and not known to be of another lot."""
    if len(set(stack.glazes)) != 1:
        return []
    tested = frozenset().union(*stack.lots)
    return [
        index
        for index, coat in enumerate(coats)
        if coat.glaze.pk == stack.glazes[0] and (not tested or not coat.lots or tested & coat.lots)
    ]


def _differences(asked: Asked, report: LabReport, stack: Stack) -> list[str] | None:
    """In what the tested ware differs, [] in nothing; None: it has nothing to do with it."""
    if not asked.is_ware and len(asked.coats) == 1:
        return ["not_ware"] if asked.coats[0].glaze.pk in stack.glazes else None
    if asked.tile is not None and report.tile_id == asked.tile.pk:
        return _of_this_tile(asked, report, stack)
    is_pot = asked.is_ware and asked.tile is None
    pairs = asked.stack.pairs(stack) if is_pot and stack.says_where else None
    found = [] if asked.is_ware else ["not_ware"]
    found += ["ware"] if asked.tile is not None else []
    if pairs is None:
        if stack.glazes != asked.stack.glazes:
            same = is_pot and set(stack.glazes) == set(asked.stack.glazes)
            return [*found, "layers"] if same else None
        found += ["areas"] if is_pot else []
        pairs = {(n, n) for n in range(len(stack.glazes))}
    found += [] if all(asked.stack.lots[m] & stack.lots[n] for m, n in pairs) else ["lot"]
    # Studios count their batches anew: one of the same name that was mixed later is another one. Where nobody noted
    # when it was mixed, all that is known is when it came into its bucket.
    mixed_on = [
        coat.fill.made_on or timezone.localdate(coat.fill.started_at)
        for coat in asked.coats
        if coat.fill and coat.glaze.origin == Glaze.Origin.MIXED
    ]
    found += ["batch"] if any(day > report.tested_on for day in mixed_on) else []
    for name, mine, theirs in _ware(asked, report):
        found += [] if mine and mine == theirs else [name]
    return found


def _of_this_tile(asked: Asked, report: LabReport, stack: Stack) -> list[str]:
    """The very tile was tested: what the report leaves out is the tile's own, what it says must not contradict."""
    found = ["layers"] if stack.is_known and stack.glazes != asked.stack.glazes else []
    if stack.glazes == asked.stack.glazes and any(
        mine and tested and not mine & tested
        for mine, tested in zip(asked.stack.lots, stack.lots, strict=True)
    ):
        found.append("lot")
    if stack.glazes == asked.stack.glazes and any(
        tested and tested != mine for mine, tested in zip(asked.stack.areas, stack.areas, strict=True)
    ):
        found.append("areas")
    found += [name for name, mine, theirs in _ware(asked, report) if theirs and mine != theirs]
    # Of one and the same day nobody knows which came first.
    return [*found, "since"] if asked.since and report.tested_on <= asked.since else found


def _ware(asked: Asked, report: LabReport) -> list[tuple[str, Any, Any]]:
    words: Callable[[str], str] = lambda text: text.strip().casefold()  # noqa: E731
    return [
        ("body", asked.body.pk if asked.body else None, report.body_id),
        ("cone", asked.cone, report.cone),
        ("form", words(asked.form), words(report.form)),
    ]
