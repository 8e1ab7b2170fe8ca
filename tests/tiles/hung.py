"""A wall with one tile of each sort that a filter tells apart, and each filter's meaning in plain Python.

The meanings read the made records one by one; nothing here builds a queryset like the filters' own.
"""

from datetime import date, timedelta
from decimal import Decimal
from urllib.parse import urlencode

from django.utils import timezone

from inventory import actions as shelf
from inventory.calc.cones import Cone
from inventory.models import Opacity, Surface
from tests import make
from tiles import actions as wall
from tiles.models import Combination, OutcomeFault, Tile

DAY = timedelta(days=1)
RAN = {"movement_mm": Decimal("5.1"), "verdict": "change", "opacity": "transparent"}
# Only so that the many readings of the records do not take minutes.
WITH = (
    "layers__glaze",
    "layers__fill__flags",
    "outcomes__faults",
    "zones__combination__parts",
    "tile_firings__firing",
)


class Hung:
    """Everything is reached by name: `w.tiles["satin"]`, `w.glazes["ash"]`."""

    def __init__(self, people):
        self.people = people
        by = make.manager()
        now = timezone.now()
        self.bodies = {
            "white": make.body("Weir White", low="5", high="10", colour="white"),
            "red": make.body("Sluice Red", low="06", high="6", colour="red"),
        }
        names = {
            "ash": "Ash Celadon",
            "tenmoku": "Mill Tenmoku",
            "shino": "Weir Shino",
            "blue": "Blue Satin Slip",
        }
        self.glazes = {key: make.glaze(name, low="06", high="10") for key, name in names.items()}
        self.glazes["bought"] = make.glaze("Brook Clear", low="06", high="10", origin="bought")
        self.glazes["wax"] = make.glaze("Resist", kind="wax", low=None, high=None)
        ash, tenmoku, shino = self.glazes["ash"], self.glazes["tenmoku"], self.glazes["shino"]
        bought, wax = self.glazes["bought"], self.glazes["wax"]
        self.fills = {
            "food": make.fill(bought, label="food_safe"),
            "dinnerware": make.fill(bought, label="dinnerware_safe"),
            "not_food": make.fill(bought, label="not_for_food"),
            "silent": make.fill(bought, label="none"),
            "unread": make.fill(bought),
            "dirty": make.fill(ash),
            "mistaken": make.fill(ash),
            "mended": make.fill(tenmoku),
            "withheld": make.fill(tenmoku),
            "emptied": make.fill(shino),
            "dried": make.fill(shino),
        }
        board = shelf.create_place(by=by, name="North board", kind="board")
        hook = shelf.create_place(by=by, name="Hook 7", kind="hook", parent=board)

        shelf.raise_flag(by=by, fill=self.fills["dried"], kind="dried_out")
        self.places = {"board": board, "hook": hook}

        def tile(name, *layers, by=by, body="white", **fields):
            body = self.bodies[body] if body else None
            self.tiles[name] = make.tile(by=by, body=body, layers=list(layers), **fields)
            return self.tiles[name]

        self.tiles = {}
        tile("blank", body=None)
        tile("satin", {"glaze": ash}, {"glaze": tenmoku}, place=board)
        tile("swapped", {"glaze": tenmoku}, {"glaze": ash}, place=hook)
        tile("halves", {"glaze": ash, "area": "upper"}, {"glaze": shino, "area": "lower"})
        tile("twice", {"glaze": ash}, {"glaze": ash}, remark="thick on purpose")
        tile("crazed", {"glaze": ash}, body="red")
        tile("hot", {"glaze": shino})
        tile("cool", {"glaze": shino}, body="red")
        tile("between", {"glaze": tenmoku})
        tile("stood", {"glaze": tenmoku})
        tile("stopped", {"glaze": ash})
        tile("unfired", {"glaze": self.glazes["blue"]}, by=people["member"])
        tile("waxed", {"glaze": wax}, {"fill": self.fills["food"]})
        tile("only_wax", {"glaze": wax})
        tile("dinnerware", {"fill": self.fills["food"]}, {"fill": self.fills["dinnerware"]})
        tile("half_labelled", {"fill": self.fills["food"]}, {"fill": self.fills["silent"]})
        tile("unread", {"fill": self.fills["unread"]})
        tile("not_food", {"fill": self.fills["food"]}, {"fill": self.fills["not_food"]})
        tile("withheld", {"fill": self.fills["withheld"]})
        tile("before", {"fill": self.fills["dirty"], "applied_at": now - 20 * DAY})
        tile("after", {"fill": self.fills["dirty"], "applied_at": now - 2 * DAY})
        tile("nobody_knows_when", {"fill": self.fills["dirty"], "applied_at": None})
        tile("lifted", {"fill": self.fills["mistaken"]})
        tile("spoiled_then", {"fill": self.fills["mended"], "applied_at": now - 9 * DAY})
        tile("mended_since", {"fill": self.fills["mended"], "applied_at": now - 1 * DAY})
        tile("own_private", {"glaze": ash}, by=people["member"], visibility="mine")
        tile("others_private", {"glaze": ash}, {"glaze": tenmoku}, by=people["other"], visibility="mine")
        tile("open", {"glaze": shino}, by=people["other"], visibility="open")
        tile("broken", {"glaze": shino})
        tile("formula", {"glaze": ash}, remark="=1+1", made_on=date(2024, 2, 29))
        tile(
            "many",
            *[{"glaze": g} for g in (ash, wax, tenmoku, shino, ash, tenmoku)],
            made_on=date(2024, 3, 1),
        )
        tile("emptied", {"fill": self.fills["emptied"]})
        tile("dried_then", {"fill": self.fills["dried"]}, {"fill": self.fills["food"]})
        shelf.end_fill(by=by, fill=self.fills["emptied"], why="used up")

        self._flag(by, now)
        self._fire(by)
        self._look(by, people)
        wall.change_tile(by=by, obj=self.tiles["broken"], values={"state": "broken"})
        fresh = {t.pk: t for t in Tile.objects.select_related("body", "place").prefetch_related(*WITH)}
        self.tiles = {name: fresh[t.pk] for name, t in self.tiles.items()}

    def _flag(self, by, now):
        shelf.raise_flag(by=by, fill=self.fills["dirty"], kind="contaminated", since=now - 10 * DAY)
        shelf.raise_flag(by=by, fill=self.fills["withheld"], kind="not_for_food")
        shelf.raise_flag(by=by, fill=self.fills["unread"], kind="settled_hard")
        wrong = shelf.raise_flag(by=by, fill=self.fills["mistaken"], kind="wrong_label")
        shelf.clear_flag(by=by, flag=wrong, outcome="mistaken", note="read it again by daylight")
        mended = shelf.raise_flag(by=by, fill=self.fills["mended"], kind="contaminated")
        shelf.clear_flag(by=by, flag=mended, outcome="put_right", put_right_at=now - 5 * DAY)

    def _fire(self, by):
        kiln = make.kiln(highest="12")
        six = {"cone": make.cone("6"), "bend_degrees": 95}
        fired = {
            "six": ("6", ["satin", "twice", "crazed", "halves", "own_private", "others_private"], [six]),
            "planned": ("6", ["swapped", "waxed", "dinnerware", "before", "after", "broken"], None),
            "ten": ("10", ["hot", "open"], [{"cone": make.cone("10"), "bend_degrees": 90}]),
            "oh_six": ("06", ["cool"], [{"cone": make.cone("06"), "bend_degrees": 100}]),
            "half": ("5.5", ["between"], [{"cone": make.cone("5.5"), "bend_degrees": 90}]),
            "short": ("6", ["stood"], [{"cone": make.cone("6"), "bend_degrees": 40}]),
        }
        self.firings = {}
        for name, (target, tiles, witness) in fired.items():
            self.firings[name] = make.firing(kiln, target=target)
            for tile in tiles:
                reason = "for the test"
                wall.load_tile(
                    by=by, firing=self.firings[name], tile=self.tiles[tile], override_reason=reason
                )
            make.fire(self.firings[name], witness=witness)
        self.firings["stopped"] = make.firing(kiln, target="6")
        make.fire(self.firings["stopped"], self.tiles["stopped"], stop=True)
        pit = make.kiln("In the barn", highest="12")
        self.kilns = {"usual": kiln, "barn": pit}
        self.firings["smoky"] = make.firing(pit, target="6", atmosphere="reduction")
        make.fire(self.firings["smoky"], self.tiles["lifted"])
        self.firings["raw"] = make.firing(pit, target="04", kind="bisque")
        make.fire(self.firings["raw"], self.tiles["blank"])
        self.firings["loading"] = make.firing(kiln, target="6")
        wall.load_tile(by=by, firing=self.firings["loading"], tile=self.tiles["unread"])

    def _look(self, by, people):
        def look(name, by=by, **fields):
            wall.record_outcome(by=by, tile=self.tiles[name], zone="whole", **fields)

        today = timezone.localdate()
        look(
            "satin", surface="satin", colour="bluish at the rim", verdict="again", movement_mm=Decimal("0.9")
        )
        look(
            "swapped",
            surface="matte",
            remark="dull, more so than hoped",
            verdict="again",
            looked_on=today - DAY,
        )
        look("swapped", verdict="not_again", opacity="translucent", movement_mm=Decimal(5))
        look("crazed", surface="glossy", faults=[{"kind": "crazing", "where": "inside"}], looked_on=today)
        look("crazed", surface="satin", looked_on=today - DAY)
        look("twice", surface="dry", faults=[{"kind": "crawling"}, {"kind": "pinholing"}], opacity="opaque")
        look("hot", surface="satin", faults=[{"kind": "running"}], damage="ran onto the shelf", **RAN)
        look("cool", colour="=pink")
        look("own_private", by=people["member"], surface="satin")
        look("others_private", by=people["other"], surface="satin", colour="bluish")
        look("open", by=people["other"], surface="glossy", faults=[{"kind": "crazing"}])

    def seen_by(self, person):
        """The tiles that a person may see, by the words of the design: members the studio's and their own."""
        everything = person.role in ("technician", "manager")
        return [
            t for t in self.tiles.values() if everything or t.visibility != "mine" or t.maker_id == person.pk
        ]


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
    return found + more_cases(w)


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
    "weir satin",
    "ash tenmoku",
    "thick",
    "=1",
    "100%",
    "a_h",
    "nothing has this",
    "  ",
)


def without(tile, kinds):
    looks = list(tile.outcomes.all())
    return bool(looks) and not any(f.kind in kinds for look in looks for f in look.faults.all())


def numbers(w, person, *fits):
    """The numbers of the tiles that fit, by brute force."""
    return sorted(t.number for t in w.seen_by(person) if all(fit(t) for fit in fits))


def query(*chosen):
    """The query string of some cases."""
    return urlencode([(name, value) for name, value, _fit in chosen], doseq=True)
