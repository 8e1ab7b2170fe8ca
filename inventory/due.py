"""What stands on the shelf and needs somebody. Each fill is named once, where its most pressing matter is."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Case, F, Q, Value, When
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _l

from inventory.models import Fill, Flag
from inventory.sentences import age_words, gravity_words
from studio.registry import Due, DueGroup
from studio.roles import is_device, may


@dataclass(frozen=True)
class Matter:
    """`act` is the row of the role table for whoever sees to it, and `door` that of the page on which it is done.

    The owner of a jar is always told.
    """

    kind: str
    order: int
    title: Any
    does: Any
    act: str
    url_name: str = ""
    door: str = ""


# The most pressing first. "Not for food" is no matter of today: so it stays.
MATTERS = [
    Matter("flagged", 70, _l("Flagged"), _l("clear it"), "flag.clear"),
    Matter("dried", 75, _l("Dried out or settled"), _l("revive it"), "flag.clear", "revive", "flag.clear"),
    Matter("window", 80, _l("SG out of its window"), _l("correct it"), "fill.change"),
    Matter("low", 85, _l("Running low"), _l("fill it up"), "fill.change", "top-up", "fill.own_jar"),
    Matter("stale", 90, _l("SG to be read"), _l("read it"), "reading.add", "reading-new", "reading.add"),
]
FLAGGED = Q(is_contaminated=True) | Q(is_wrong_label=True) | Q(is_other=True)
DRIED = Q(is_dried_out=True) | Q(is_settled_hard=True)


def due_on_the_shelf(person: Any, most: int) -> Iterable[DueGroup]:
    """The studio's buckets and the person's own jars, their own first, else in the order of the walk."""
    mine = None if is_device(person) else person.pk
    found: dict[str, list[Any]] = {matter.kind: [] for matter in MATTERS}
    for fill in _fills(mine):
        found[fill.matter].append(fill)
    flags = _open_flags([fill.pk for fill in found["flagged"] + found["dried"]])
    for matter in MATTERS:
        theirs = [f for f in found[matter.kind] if f.bucket.owner_id or may(person, matter.act)]
        theirs.sort(key=lambda fill: fill.bucket.owner_id is None)
        items = [_due(fill, matter, flags.get(fill.pk, []), person) for fill in theirs[:most]]
        yield DueGroup(
            matter.kind,
            matter.order,
            matter.title,
            matter.does,
            "inventory/_due_lid.html",
            len(theirs),
            items,
        )


def _fills(mine: Any) -> Any:
    """Those with a `matter`, in one query."""
    low = Fill.objects.low().values("pk")
    rows = Fill.objects.in_use().of_the_studio_or(mine).with_standing()
    matter = Case(
        When(FLAGGED, then=Value("flagged")),
        When(DRIED, then=Value("dried")),
        When(Q(sg__lt=F("sg_low")) | Q(sg__gt=F("sg_high")), then=Value("window")),
        When(pk__in=low, then=Value("low")),
        When(sg_is_stale=True, then=Value("stale")),
        default=Value(""),
    )
    rows = rows.annotate(matter=matter).exclude(matter="").in_walking_order()
    return rows.select_related("glaze", "bucket")


def _open_flags(fills: list[Any]) -> dict[Any, list[Flag]]:
    """The open flags of each fill, newest first."""
    flags: dict[Any, list[Flag]] = {}
    for flag in (
        Flag.objects.open().filter(fill__in=fills).exclude(kind="not_for_food").order_by("-created_at")
    ):
        flags.setdefault(flag.fill_id, []).append(flag)
    return flags


def _due(fill: Any, matter: Matter, flags: list[Flag], person: Any) -> Due:
    if matter.url_name and may(person, matter.door):
        url = reverse(f"inventory:{matter.url_name}", args=[fill.bucket.code])
    else:
        url = flags[0].get_absolute_url() if flags else fill.bucket.get_absolute_url()
    return Due(
        kind="inventory.fill",
        id=fill.pk,
        name=fill.glaze.name,
        words=_words(fill, matter, flags),
        url=url,
        is_mine=fill.bucket.owner_id is not None,
        values={"fill": fill},
    )


def _words(fill: Any, matter: Matter, flags: list[Flag]) -> str:
    if flags:
        return str(flags[0].get_kind_display())
    if matter.kind == "window":
        high = fill.sg_high is not None and fill.sg > fill.sg_high
        words = _("SG %(sg)s, too high") if high else _("SG %(sg)s, too low")
        return words % {"sg": gravity_words(fill.sg)}
    if matter.kind == "low":
        return str(fill.get_level_display()) if fill.level else _("a quarter or less")
    return age_words(fill.sg_at) if fill.sg_at else _("never read")
