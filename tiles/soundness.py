"""How often a combination came out sound: in all, and for each clay body and cone. The rule is in tiles/calc/sound."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from inventory.calc.cones import Cone
from tiles.calc.sound import ZoneLook, judgement, look_that_counts
from tiles.calc.wilson import Share, share
from tiles.fault_places import speaks_of
from tiles.models import ClayBody, Combination, Firing, Outcome, Tile, TileFiring, TileZone

WORDS = {
    "mostly": gettext_lazy("More often sound than not."),
    "seldom": gettext_lazy("More often not sound than sound."),
    "cannot_say": gettext_lazy("Cannot say yet."),
}


@dataclass(frozen=True, slots=True)
class Tried:
    """One tile with the combination on it: in which kinds of zone, and the look that counts."""

    tile: Tile
    zones: tuple[str, ...]
    look: ZoneLook | None

    @property
    def is_sound(self) -> bool | None:
        return self.look.is_sound if self.look else None


@dataclass(frozen=True, slots=True)
class Group:
    """Tiles of one body and cone (or all of them): how many were looked at, and how often they were sound."""

    body: ClayBody | None
    cone: Cone | None
    tiles: int
    share: Share | None

    @property
    def word(self) -> str:
        return judgement(self.share)

    @property
    def sentence(self) -> str:
        """'3 of 4 sound; that is 42 to 93 in 100. Cannot say yet.'"""
        if self.share is None:
            return _("Nobody has looked since it was glaze-fired.")
        said = _("%(good)s of %(tries)s sound; that is %(low)s to %(high)s in 100.") % {
            "good": self.share.good,
            "tries": self.share.tries,
            "low": round(100 * self.share.low),
            "high": round(100 * self.share.high),
        }
        return f"{said} {WORDS[self.word]}"


@dataclass(frozen=True, slots=True)
class Soundness:
    in_all: Group
    groups: list[Group]
    tried: dict[Any, Tried]

    def of(self, tile: Tile) -> Group | None:
        """The group in which a tile counts."""
        return next((g for g in self.groups if _key(tile) == (g.body.pk if g.body else None, g.cone)), None)


def soundness(combination: Combination, person: Any) -> Soundness:
    """Of the tiles that the person may see, in a constant number of queries."""
    seen = Tile.objects.visible_to(person)
    zones: dict[Any, list[str]] = {}
    for zone in TileZone.objects.filter(combination=combination, tile__in=seen):
        zones.setdefault(zone.tile_id, []).append(zone.kind)
    tiles = list(Tile.objects.filter(pk__in=zones).select_related("body"))
    fired: dict[Any, list[tuple[Any, str]]] = {}
    done = TileFiring.objects.filter(tile__in=zones, firing__state=Firing.State.UNLOADED).select_related(
        "firing"
    )
    for row in done.order_by("firing__unloaded_at", "firing__number"):
        fired.setdefault(row.tile_id, []).append((row.firing_id, row.firing.kind))
    looks: dict[Any, list[ZoneLook]] = {}
    whole = Q(combination=None, zone=Outcome.Zone.WHOLE)
    noted = Outcome.objects.filter(Q(combination=combination) | whole, tile__in=zones)
    for look in noted.prefetch_related("faults"):
        looks.setdefault(look.tile_id, []).append(_zone_look(look, zones[look.tile_id]))
    tried = {
        tile.pk: Tried(
            tile,
            tuple(zones[tile.pk]),
            look_that_counts(looks.get(tile.pk, []), fired.get(tile.pk, [])),
        )
        for tile in tiles
    }
    return Soundness(_group(None, None, tried.values()), _groups(tried.values()), tried)


def damage_of(combination: Combination, person: Any) -> list[Outcome]:
    """Every look that tells of damage, for ever: at this combination, or at a whole tile of which it is a part."""
    seen = Tile.objects.visible_to(person)
    there = TileZone.objects.filter(combination=combination).values("tile")
    of_it = Q(combination=combination) | Q(combination=None, tile__in=there)
    looks = Outcome.objects.filter(of_it, tile__in=seen).exclude(damage="")
    return list(looks.select_related("tile"))


def _zone_look(look: Any, kinds: list[str]) -> ZoneLook:
    """A look at the whole tile is one at each of its parts; what it places on the overlap is no fault of the rest."""
    faults = list(look.faults.all())
    if look.combination_id is None and TileZone.Kind.OVERLAP not in kinds:
        faults = [fault for fault in faults if not speaks_of(fault.where, "overlap")]
    return ZoneLook(
        firing=look.firing_id,
        looked_on=look.looked_on,
        noted_at=look.created_at,
        has_fault=bool(faults),
        has_damage=bool(look.damage),
        verdict=look.verdict,
    )


def _key(tile: Tile) -> tuple[Any, Cone | None]:
    return tile.body_id, tile.cone


def _groups(tried: Iterable[Tried]) -> list[Group]:
    """By the name of the body, each body's hottest first, as the tiles hang."""
    by_key: dict[Any, list[Tried]] = {}
    for one in tried:
        by_key.setdefault(_key(one.tile), []).append(one)
    found = [_group(rows[0].tile.body, rows[0].tile.cone, rows) for rows in by_key.values()]
    return sorted(found, key=lambda g: (g.body.name if g.body else "", -(g.cone.rank if g.cone else -99)))


def _group(body: ClayBody | None, cone: Cone | None, tried: Iterable[Tried]) -> Group:
    rows = list(tried)
    judged = [one.is_sound for one in rows if one.is_sound is not None]
    return Group(body, cone, len(rows), share(sum(judged), len(judged)))
