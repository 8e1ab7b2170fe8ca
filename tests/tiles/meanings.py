"""What each filter of the wall means, in plain Python over the tiles of hung.py.

The meanings read the made records one by one; nothing here builds a queryset like the filters' own.
"""

from datetime import date
from decimal import Decimal
from urllib.parse import urlencode

from django.utils import timezone

from inventory.calc.cones import Cone
from inventory.models import Opacity, Surface
from tiles.models import Combination, OutcomeFault, Tile


def says(word, *texts):
    return any(word.casefold() in (text or "").casefold() for text in texts)


def by_words(text):
    def fits(tile):
        return all(one_word(word, tile) for word in text.split())

    return fits


def one_word(word, tile):
    """A word that names a look means that look; any other is somewhere in the record."""
    looks = list(tile.outcomes.all())
    if word in Surface.values:
        return any(look.surface == word for look in looks)
    if word in Opacity.values:
        return any(look.opacity == word for look in looks)
    return written(word, tile)


def written(word, tile):
    looks = list(tile.outcomes.all())
    texts = [tile.number, tile.remark, tile.body and tile.body.name, tile.place and tile.place.name]
    texts += [tile.place and tile.place.parent and tile.place.parent.name]
    texts += [layer.glaze.name for layer in tile.layers.all()]
    texts += [text for look in looks for text in (look.colour, look.remark)]
    if len(word) >= 3:
        texts += [OutcomeFault.Kind(fault.kind).label for look in looks for fault in look.faults.all()]
    return says(word, *texts)


def stacks(tile):
    """The glazes of each zone, from the clay outwards."""
    parts = [sorted(zone.combination.parts.all(), key=lambda p: p.position) for zone in tile.zones.all()]
    return [[part.glaze_id for part in stack] for stack in parts]


def flags_on(layer):
    """Flags that were true of the layer's fill when it was put on, as far as they were not mistaken."""
    if layer.fill is None:
        return []
    at = layer.applied_at
    return [
        flag.kind
        for flag in layer.fill.flags.all()
        if flag.outcome not in ("mistaken", "withdrawn")
        and (at is None or flag.since is None or flag.since <= at)
        and (at is None or flag.put_right_at is None or flag.put_right_at >= at)
    ]


def kept_from_food(tile):
    return any(
        "not_for_food" in flags_on(layer) or (layer.fill and layer.fill.label == "not_for_food")
        for layer in glazing(tile)
    )


def unlabelled(layer):
    return layer.fill is None or layer.fill.label in ("", "none")


def glazing(tile):
    return [layer for layer in tile.layers.all() if layer.glaze.kind != "wax"]


def labelled(tile):
    layers = glazing(tile)
    labels = {layer.fill.label if layer.fill else None for layer in layers}
    return bool(layers) and labels <= {"food_safe", "dinnerware_safe"} and not kept_from_food(tile)


def touched(tile):
    return any({"contaminated", "wrong_label"} & set(flags_on(layer)) for layer in tile.layers.all())


def cases(w):
    """(name, value as sent, does a tile fit) for every filter of the wall."""
    found = [("q", text, by_words(text)) for text in SEARCHES]
    for word, text in (("cone 6", "6"), ("^06", "06"), ("Cone 5.5", "5.5")):
        cone = Cone.parse(text)
        found.append(("q", word, lambda t, c=cone: t.cone == c))
    five, six = Cone.parse("5"), Cone.parse("6")
    found += [
        ("q", "satin cone 6", lambda t: one_word("satin", t) and t.cone == six),
        ("q", "^5-6 dry matt", lambda t: in_range(t, five, six) and surface_of(t, "dry", "matte")),
        ("q", '"satin"', lambda t: written("satin", t)),
        ("q", "“satin slip”", lambda t: written("satin slip", t)),
        ("q", "cone 99", lambda t: written("cone", t) and written("99", t)),
    ]
    for text in ("06", "5", "^5 1/2", "6", "c10", "14"):
        cone = Cone.parse(text)
        found.append(("cone_min", text, lambda t, c=cone: t.cone is not None and t.cone >= c))
        found.append(("cone_max", text, lambda t, c=cone: t.cone is not None and t.cone <= c))
    for one in ("satin", "matte", "dry", "glossy"):
        found.append(("surface", [one], lambda t, s=one: any(o.surface == s for o in t.outcomes.all())))
    found.append(
        ("surface", ["satin", "dry"], lambda t: any(o.surface in ("satin", "dry") for o in t.outcomes.all()))
    )
    for glaze in w.glazes.values():
        pk = glaze.pk
        found.append(("glaze", str(pk), lambda t, g=pk: any(la.glaze_id == g for la in t.layers.all())))
        found.append(("glaze_top", str(pk), lambda t, g=pk: any(s[-1] == g for s in stacks(t) if len(s) > 1)))
        found.append(("glaze_under", str(pk), lambda t, g=pk: any(g in s[:-1] for s in stacks(t))))
    for kinds in (["crazing"], ["crawling", "running"], ["bloating"], [*OutcomeFault.Kind.values]):
        found.append(("without_fault", kinds, lambda t, k=kinds: without(t, k)))
    found += [
        ("label", "labelled", labelled),
        ("label", "not_for_food", kept_from_food),
        ("label", "not_known", lambda t: any(unlabelled(layer) for layer in glazing(t))),
        ("standing", "clear", lambda t: not touched(t)),
        ("standing", "touched", touched),
    ]
    for body in w.bodies.values():
        found.append(("body", str(body.pk), lambda t, b=body.pk: t.body_id == b))
    for firing in w.firings.values():
        found.append(
            (
                "firing",
                str(firing.number),
                lambda t, f=firing.pk: any(r.firing_id == f for r in t.tile_firings.all()),
            )
        )
    for person in w.people.values():
        found.append(("maker", str(person.pk), lambda t, p=person.pk: t.maker_id == p))
    for states in (["fired"], ["recorded", "broken"], ["blank", "glazed"], [*Tile.State.values]):
        found.append(("state", states, lambda t, s=states: t.state in s))
    found += [("waiting", "true", waits), ("waiting", "false", lambda t: not waits(t))]
    found += [("marked", "true", set_aside), ("marked", "false", lambda t: not set_aside(t))]
    return found + more_cases(w)


def set_aside(tile):
    return any(mark.undone_at is None for mark in tile.flag_marks.all())


def in_range(tile, low, high):
    return tile.cone is not None and low <= tile.cone <= high


def surface_of(tile, *surfaces):
    return any(look.surface in surfaces for look in tile.outcomes.all())


def more_cases(w):
    looks = lambda t: list(t.outcomes.all())  # noqa: E731
    found = []
    for one in (["opaque"], ["transparent", "translucent"]):
        found.append(("opacity", one, lambda t, o=one: any(look.opacity in o for look in looks(t))))
    # Under 1 mm, from 1 to 5 mm, over 5 mm.
    for word, low, high in (("none", 0, "0.99"), ("little", 1, 5), ("lot", "5.01", 300)):
        ends = Decimal(low), Decimal(high)
        found.append(("movement", [word], lambda t, e=ends: any(moved(look, *e) for look in looks(t))))
    for one in (["again"], ["not_again"], ["change", "again"]):
        found.append(("verdict", one, lambda t, v=one: last_verdict(t) in v))
    for kinds in (["crazing"], ["crawling", "running"], ["bloating"]):
        found.append(
            (
                "with_fault",
                kinds,
                lambda t, k=kinds: any(f.kind in k for look in looks(t) for f in look.faults.all()),
            )
        )
    for stack in {tuple(s) for t in w.tiles.values() if t.visibility != "mine" for s in stacks(t)}:
        key = Combination.objects.get(
            key__in=[c.key for c in Combination.objects.all() if parts(c) == stack]
        ).pk
        found.append(("combination", str(key), lambda t, s=stack: list(s) in stacks(t)))
    for counts in (["1"], ["2", "3"], ["4"]):
        numbers_ = {int(n) for n in counts}
        found.append(("layers", counts, lambda t, n=numbers_: min(len(glazing(t)), 4) in n))
    for atmosphere in ("oxidation", "reduction", "neutral"):
        found.append(
            ("atmosphere", atmosphere, lambda t, a=atmosphere: any(f.atmosphere == a for f in melted(t)))
        )
    for kiln in w.kilns.values():
        found.append(("kiln", str(kiln.pk), lambda t, k=kiln.pk: any(f.kiln_id == k for f in melted(t))))
    for value in ("use", "ask", "do_not_use"):
        found.append(
            ("use_then", value, lambda t, v=value: said_of(v, [la.use_then for la in t.layers.all()]))
        )
        found.append(
            ("use_now", value, lambda t, v=value: said_of(v, [use_now(la) for la in t.layers.all()]))
        )
    found.append(("use_now", "gone", lambda t: any(use_now(la) == "" for la in t.layers.all())))
    hook, board = w.places["hook"].pk, w.places["board"].pk
    found.append(("place", str(hook), lambda t: t.place_id == hook))
    found.append(("place", str(board), lambda t: t.place_id in (board, hook)))  # the hook is on the board
    for day in (date(2024, 2, 29), date(2024, 3, 1), timezone.localdate()):
        found.append(("date_from", day.isoformat(), lambda t, d=day: day_of(t) >= d))
        found.append(("date_to", day.isoformat(), lambda t, d=day: day_of(t) <= d))
    return found


def moved(look, low, high):
    return look.movement_mm is not None and low <= look.movement_mm <= high


def last_verdict(tile):
    judged = [look for look in tile.outcomes.all() if look.verdict]
    return max(judged, key=lambda look: (look.looked_on, look.created_at)).verdict if judged else None


def parts(combination):
    return tuple(p.glaze_id for p in sorted(combination.parts.all(), key=lambda p: p.position))


def melted(tile):
    """The firings, but for bisque, that the tile came out of or was stopped in."""
    ended = ("cooling", "unloaded", "stopped")
    firings = [row.firing for row in tile.tile_firings.all()]
    return [firing for firing in firings if firing.kind != "bisque" and firing.state in ended]


def use_now(layer):
    """By the open flags alone: no fill here has a reading or an empty level."""
    if layer.fill is None or layer.fill.ended_at is not None:
        return ""
    kinds = {flag.kind for flag in layer.fill.flags.all() if flag.outcome == ""}
    if kinds & {"contaminated", "wrong_label"}:
        return "do_not_use"
    return "ask" if kinds & {"dried_out", "settled_hard", "other"} else "use"


def said_of(value, said):
    """'use' is said of every bucket, the others of one at least."""
    return bool(said) and (all(s == "use" for s in said) if value == "use" else value in said)


def day_of(tile):
    return tile.made_on or timezone.localdate(tile.created_at)


SEARCHES = (
    "ash",
    "BLUISH",
    "satin",
    "tenm",
    "te",
    "craz",
    "opaque",
    "north",
    "hook",
    "weir satin",
    "ash tenmoku",
    "thick",
    "=1",
    "100%",
    "a_h",
    "nothing has this",
    "  ",
)


def waits(tile):
    """Out of a glaze firing, still there, and no look since; no tile here was fired twice."""
    out = any(firing.state == "unloaded" for firing in melted(tile))
    return out and tile.state not in ("lost", "broken") and not tile.outcomes.all()


def without(tile, kinds):
    looks = list(tile.outcomes.all())
    return bool(looks) and not any(f.kind in kinds for look in looks for f in look.faults.all())


def numbers(w, person, *fits):
    """The numbers of the tiles that fit, by brute force."""
    return sorted(t.number for t in w.seen_by(person) if all(fit(t) for fit in fits))


def query(*chosen):
    """The query string of some cases."""
    return urlencode([(name, value) for name, value, _fit in chosen], doseq=True)
