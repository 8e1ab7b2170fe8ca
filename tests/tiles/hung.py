"""A wall with one tile of each sort that a filter tells apart; what each filter means is in meanings.py."""

from datetime import date, timedelta
from decimal import Decimal

from django.utils import timezone

from inventory import actions as shelf
from tests import make
from tiles import actions as wall
from tiles.models import Tile

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
        marked = wall.mark_touched(by=by, flag=self.flags["dirty"])
        wall.undo_marks(by=by, flag=self.flags["dirty"], batch=marked[0].batch)
        wall.mark_touched(by=by, flag=self.flags["dirty"], since=now - 5 * DAY)
        fresh = {
            t.pk: t for t in Tile.objects.select_related("body", "place__parent").prefetch_related(*WITH)
        }
        self.tiles = {name: fresh[t.pk] for name, t in self.tiles.items()}

    def _flag(self, by, now):
        dirty = shelf.raise_flag(by=by, fill=self.fills["dirty"], kind="contaminated", since=now - 10 * DAY)
        self.flags = {"dirty": dirty}
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
