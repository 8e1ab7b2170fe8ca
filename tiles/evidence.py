"""What this studio has to show for an answer: tiles, counts with their interval, and the buckets concerned.

However many tiles and buckets there are, the number of queries is that of the kinds of evidence asked for.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Count, F, Q, Window
from django.db.models.functions import RowNumber
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from inventory.models import Fill
from inventory.sentences import food_words, reason_sentence
from tiles.calc.wilson import share
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.meanings import TOLD, looked_at
from tiles.models import Layer, OutcomeFault, Tile
from tiles.questions import Asked

CARDS, BUCKETS = 3, 4
OF_TILES = ("all", "method", "layers", "kind", "ground")
# What a bucket is, in the sentence "One bucket in use is ...".
STATES = {
    "sg_low": gettext_lazy("too thin"),
    "sg_high": gettext_lazy("too thick"),
    "settled_hard": gettext_lazy("settled hard"),
    "dried_out": gettext_lazy("dried out"),
    "contaminated": gettext_lazy("contaminated"),
    "wrong_label": gettext_lazy("wrongly labelled"),
}
LABELS_ALONE = gettext_lazy(
    "That counts labels and nothing more. It leaves out what was layered over what, how it was fired and what a "
    "laboratory found; the food record of each tile tells that."
)
PROVED = ("witness_here", "witness_firing", "log")


@dataclass(frozen=True, slots=True)
class BucketShown:
    code: str
    words: str
    url: str


@dataclass(frozen=True, slots=True)
class Evidence:
    """`words` are sentences; `wall` is the address of the wall with the same tiles, '' where there is none."""

    words: list[str]
    cards: list[TileCard] = field(default_factory=list)
    buckets: list[BucketShown] = field(default_factory=list)
    wall: str = ""


def evidence_for(asked: Sequence[Asked], person: Any) -> dict[str, Evidence]:
    """By code of the question, of the tiles and buckets that the person may see."""
    seen: Any = Tile.objects.visible_to(person)
    about = {one.code: _parts(one.evidence) for one in asked}
    counts = _counts(seen, about)
    fills = _fills(person) if any(kind in ("buckets", "labels") for kind, _of in about.values()) else []
    shown = _shown(seen, about)
    cards = {
        tile.pk: card(tile)
        for tile in seen.for_the_wall().filter(pk__in={pk for pks in shown.values() for pk in pks})
    }
    found = {}
    for one in asked:
        kind, of = about[one.code]
        buckets = [fill for fill in fills if _concerns(fill, kind, of)]
        found[one.code] = Evidence(
            words=_words(kind, of, counts.get(one.code, (0, 0)), buckets, fills),
            cards=[cards[pk] for pk in shown.get(one.code, ()) if pk in cards],
            buckets=[_bucket(fill, kind) for fill in buckets[:BUCKETS]] if of != ["all"] else [],
            wall=f"{reverse('tiles:wall')}?{one.wall}"
            if one.wall and counts.get(one.code, (1, 0))[0]
            else "",
        )
    return found


def _parts(text: str) -> tuple[str, list[str]]:
    """('fault', ['flaking', 'crawling']) of 'fault:flaking,crawling'."""
    kind, _colon, of = text.partition(":")
    return kind, of.split(",") if of else []


def _condition(kind: str, of: list[str]) -> Q:
    """Which tiles a question is about."""
    layers = Layer.objects.order_by()
    if kind == "method":
        return Q(pk__in=layers.filter(method__in=of).values("tile"))
    if kind == "kind":
        return Q(pk__in=layers.filter(glaze__kind__in=of).values("tile"))
    if kind == "ground":
        return Q(pk__in=layers.filter(ground__in=of).values("tile"))
    if kind == "layers":
        return TOLD["layers"].fits(range(int(of[0]), 5))
    return Q()


def _counts(seen: Any, about: dict[str, tuple[str, list[str]]]) -> dict[str, tuple[int, int]]:
    """(how many, of how many), by question, in one query: what shows the fault, or what showed none."""
    any_fault = Q(pk__in=OutcomeFault.objects.order_by().values("outcome__tile"))
    asked: dict[str, tuple[Q, Q]] = {}
    for code, (kind, of) in about.items():
        if kind == "fault":
            asked[code] = TOLD["with_fault"].fits(of), looked_at()
        elif kind in OF_TILES:
            group = looked_at() & _condition(kind, of)
            asked[code] = group & ~any_fault, group
        elif kind == "proved":
            melted = ~Q(cone_basis="")
            asked[code] = Q(cone_basis__in=PROVED), melted
        elif kind == "bare":
            asked[code] = Q(state__in=["blank", "bisqued"]), Q(state__in=["blank", "bisqued"])
    if not asked:
        return {}
    told = seen.order_by().aggregate(
        **{f"n_{code}": Count("pk", filter=good) for code, (good, _all) in asked.items()},
        **{f"of_{code}": Count("pk", filter=group) for code, (_good, group) in asked.items()},
    )
    return {code: (told[f"n_{code}"], told[f"of_{code}"]) for code in asked}


def _shown(seen: Any, about: dict[str, tuple[str, list[str]]]) -> dict[str, list[Any]]:
    """The newest few tiles of each question: those with the fault in one query, the others in one each."""
    kinds = {kind for what, of in about.values() if what == "fault" for kind in of}
    by_kind: dict[str, list[Any]] = {}
    if kinds:
        noted = OutcomeFault.objects.filter(kind__in=kinds, outcome__tile__in=seen.order_by())
        place = Window(RowNumber(), partition_by=F("kind"), order_by=F("pk").desc())
        # A tile may be noted several times, so more rows are read than are shown.
        for kind, tile in (
            noted.annotate(n=place).filter(n__lte=CARDS * 4).values_list("kind", "outcome__tile")
        ):
            by_kind.setdefault(kind, []).append(tile)
    found = {}
    for code, (what, of) in about.items():
        if what == "fault":
            found[code] = list(dict.fromkeys(pk for kind in of for pk in by_kind.get(kind, ())))[:CARDS]
        elif what in OF_TILES:
            rows = seen.filter(looked_at() & _condition(what, of)).order_by("-created_at", "pk")
            found[code] = list(rows.values_list("pk", flat=True)[:CARDS])
    return found


def _fills(person: Any) -> list[Any]:
    """What stands on the shelf and in the person's own jars, with its standing."""
    rows: Any = Fill.objects.in_use().of_the_studio_or(person.pk)
    return list(
        rows.with_standing().select_related("glaze", "bucket").order_by("glaze__name", "bucket__code")
    )


def _concerns(fill: Any, kind: str, of: list[str]) -> bool:
    if kind == "labels":
        return of == ["all"] or fill.food in ("label_food_safe", "label_dinnerware_safe")
    return kind == "buckets" and any(reason in of for reason in _reasons(fill))


def _reasons(fill: Any) -> Iterable[str]:
    return (*fill.standing.use_reasons, *fill.standing.notes)


def _bucket(fill: Any, kind: str) -> BucketShown:
    said = (
        food_words(fill.food)
        if kind == "labels"
        else " ".join(reason_sentence(code) for code in _reasons(fill))
    )
    return BucketShown(fill.bucket.code, f"{fill.glaze.name}: {said}", fill.bucket.get_absolute_url())


def _words(
    kind: str, of: list[str], counted: tuple[int, int], buckets: list[Any], fills: list[Any]
) -> list[str]:
    n, tries = counted
    if kind == "buckets":
        state = _(" or ").join(str(STATES[code]) for code in of)
        if not buckets:
            return [_("No bucket in use is %(state)s.") % {"state": state}]
        said = ngettext(
            "One bucket in use is %(state)s.", "%(n)s buckets in use are %(state)s.", len(buckets)
        )
        return [said % {"n": len(buckets), "state": state}]
    if kind == "labels":
        return _labels(of, buckets, fills)
    if kind == "bare":
        return [ngettext("One bare tile waits for glaze.", "%(n)s bare tiles wait for glaze.", n) % {"n": n}]
    if not tries:
        return [_("No tile of this studio tells yet. Yours could be the first.")]
    ending = {
        "fault": _("tiles that were looked at show “%(fault)s”") % {"fault": _faults(of)},
        "proved": _("fired tiles have a cone that a witness cone or a log has proved"),
    }.get(kind, _("such tiles that were looked at showed no fault"))
    return [_of(n, tries, ending) + " " + _interval(n, tries)]


def _faults(kinds: list[str]) -> str:
    return _("” or “").join(str(OutcomeFault.Kind(kind).label) for kind in kinds if kind in OutcomeFault.Kind)


def _of(n: int, tries: int, ending: str) -> str:
    return _("%(n)s of %(tries)s %(ending)s.") % {"n": n, "tries": tries, "ending": ending}


def _interval(n: int, tries: int) -> str:
    """What so few tries leave open (Wilson, 80 %)."""
    told = share(n, tries)
    if told is None:
        return ""
    return _("In the long run that is %(low)s to %(high)s in 100.") % {
        "low": round(100 * told.low),
        "high": round(100 * told.high),
    }


def _labels(of: list[str], buckets: list[Any], fills: list[Any]) -> list[str]:
    """How many buckets in use say what about food; or (`of` not all) how many carry a label in its favour."""
    if not fills:
        return [_("No bucket is in use.")]
    if of != ["all"]:
        said = _of(len(buckets), len(fills), _("buckets in use carry such a label"))
        return [said, str(LABELS_ALONE)]
    counts = Counter(fill.food for fill in fills)
    said = "; ".join(f"{n} × {food_words(code)}" for code, n in counts.most_common())
    return [_("Buckets in use: %(said)s.") % {"said": said}, str(LABELS_ALONE)]
