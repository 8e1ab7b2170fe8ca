"""A shelf with a bucket of each sort that a question tells apart, and each question's meaning in plain Python.

The meanings read the made records one by one; nothing here builds a queryset like the filters' own.
"""

from datetime import timedelta
from decimal import Decimal
from urllib.parse import urlencode

from django.utils import timezone

from inventory import actions as shelf
from inventory.calc.cones import Cone
from inventory.models import Bucket, Glaze, Label, Place
from tests import make

STALE_DAYS = 30  # the studio's own setting when nobody has changed it


class Stood:
    """Everything is reached by name: `s.buckets["thick"]`, `s.places["board"]`."""

    def __init__(self, people):
        self.people, self.now = people, timezone.now()
        by = make.manager()
        self.places = places = {}
        for name, order, parent in (
            ("room", 2, None),
            ("low", 2, "room"),
            ("high", 1, "room"),
            ("hook", 1, "low"),
            ("door", 1, None),
        ):
            places[name] = shelf.create_place(
                by=by, name=f"The {name}", order=order, parent=places.get(parent)
            )
        window = {"sg_low": Decimal("1.44"), "sg_high": Decimal("1.50")}
        self.glazes = {
            "green": make.glaze("Weir Green", low="5", high="6", **window),
            "red": make.glaze("Sluice Red", low="06", high="04"),
            "slip": make.glaze("Mill Slip", kind="slip", low="04", high="10"),
            "blue": make.glaze("Brook Blue", origin="bought", low="6", high="6"),
            "anywhere": make.glaze("Old Jar", low=None, high=None),
        }
        self.buckets = {}
        green, blue = self.glazes["green"], self.glazes["blue"]
        self._fill("fine", green, "low", sg="1.47", level="half")
        self._fill("thick", green, "high", sg="1.60", level="quarter")
        self._fill("dirty", green, "low", sg="1.47", level="full")
        self._fill("dried", self.glazes["red"], "door", sg="1.47", level="nearly_empty")
        self._fill("unread", blue, "hook")
        self._fill("food", blue, "room", sg="1.50", label="food_safe")
        self._fill("dinner", blue, None, label="dinnerware_safe", sg="1.50")
        self._fill("not_food", blue, "room", label="not_for_food", level="empty")
        self._fill("silent", blue, "low", label="none", sg="1.50")
        self._fill("slip", self.glazes["slip"], "high", sg="1.50")
        self._fill("kept", self.glazes["anywhere"], "door", sg="1.50")
        old = self._fill("old", green, "door")
        shelf.add_reading(
            by=by, fill=old, specific_gravity=Decimal("1.47"), taken_at=self.now - timedelta(days=31)
        )
        measured = self._fill("measured", self.glazes["red"], "low", sg="1.50")
        shelf.add_stock_entry(by=by, fill=measured, kind="level", volume_ml=Decimal(2000))
        for name in ("member", "other"):
            jar = make.bucket(by=people[name], owner=people[name])
            self.buckets[f"{name}_jar"] = make.fill(blue, bucket_=jar, by=people[name], sg="1.50").bucket
        self.buckets["empty"] = make.bucket(place=places["high"], remark="the dented one")
        emptied = self._fill("emptied", green, "low")
        shelf.end_fill(by=by, fill=emptied, why="used up")
        self.buckets["away"] = shelf.archive(by=by, obj=make.bucket(place=places["low"]))
        flagged = {
            "dirty": "contaminated",
            "dried": "dried_out",
            "kept": "not_for_food",
            "other_jar": "other",
        }
        for name, kind in flagged.items():
            shelf.raise_flag(by=people["member"], fill=self.buckets[name].fill, kind=kind, note="seen")
        lifted = shelf.raise_flag(by=people["member"], fill=self.buckets["fine"].fill, kind="contaminated")
        shelf.clear_flag(by=by, flag=lifted, outcome="mistaken", note="it was shadow")
        fresh = Bucket.objects.select_related("place__parent__parent", "owner").prefetch_related(
            "fills__glaze", "fills__flags", "fills__readings"
        )
        self.buckets = {name: fresh.get(pk=bucket.pk) for name, bucket in self.buckets.items()}

    def _fill(self, name, glaze, place, **fields):
        made = make.fill(glaze, bucket_=make.bucket(place=self.places.get(place)), **fields)
        self.buckets[name] = made.bucket
        return made

    def codes(self, *fits, archived=False):
        """The codes of the buckets that fit, by brute force."""
        return sorted(
            b.code
            for b in self.buckets.values()
            if bool(b.archived_at) == archived and all(fit(b) for fit in fits)
        )


def contents(bucket):
    """What is in it, or None."""
    return next((f for f in bucket.fills.all() if f.ended_at is None), None)


def of_fill(fits):
    return lambda bucket: contents(bucket) is not None and fits(contents(bucket))


def flags(fill):
    return {flag.kind for flag in fill.flags.all() if flag.outcome == ""}


def sg(fill):
    return max(fill.readings.all(), key=lambda r: r.taken_at, default=None)


def use(fill):
    if flags(fill) & {"contaminated", "wrong_label"}:
        return "do_not_use"
    read, glaze = sg(fill), fill.glaze
    outside = read and glaze.sg_low and not glaze.sg_low <= read.specific_gravity <= glaze.sg_high
    troubled = flags(fill) & {"dried_out", "settled_hard", "other"}
    return "ask" if outside or troubled or fill.level == "empty" else "use"


def food(fill):
    if "not_for_food" in flags(fill) or fill.label == "not_for_food":
        return "keep_from_food"
    if fill.glaze.origin == "mixed":
        return "mixed_here"
    return f"label_{fill.label}" if fill.label else "not_read"


def stale(fill):
    read = sg(fill)
    return read is None or read.taken_at < timezone.now() - timedelta(days=STALE_DAYS)


def low(fill):
    share = fill.balance_ml / fill.bucket.capacity_ml if fill.balance_ml is not None else None
    return fill.level in ("quarter", "nearly_empty", "empty") or (not fill.level and share and share <= 0.25)


def label(fill, value):
    if value == "mixed":
        return fill.glaze.origin == "mixed"
    return fill.glaze.origin == "bought" and fill.label == ("" if value == "not_read" else value)


def within(place):
    def fits(bucket):
        at = bucket.place
        while at is not None and at.pk != place.pk:
            at = at.parent
        return at is not None

    return fits


def cases(s, person):
    """(name, value as sent, does a bucket fit) for every question of the shelf but `archived`."""
    found = [("use", u, of_fill(lambda f, u=u: use(f) == u)) for u in ("use", "ask", "do_not_use")]
    foods = (
        "keep_from_food",
        "label_food_safe",
        "label_dinnerware_safe",
        "label_none",
        "not_read",
        "mixed_here",
    )
    found += [("food", v, of_fill(lambda f, v=v: food(f) == v)) for v in foods]
    found += [("label", v, of_fill(lambda f, v=v: label(f, v))) for v in (*Label.values, "not_read", "mixed")]
    found += [
        ("flagged", "true", of_fill(lambda f: bool(flags(f)))),
        ("low", "true", of_fill(low)),
        ("stale", "true", of_fill(stale)),
        ("whose", "studio", lambda b: b.owner is None),
        ("whose", "mine", lambda b: b.owner == person),
        ("whose", "jars", lambda b: b.owner is not None),
        ("q", "weir", of_fill(lambda f: "weir" in f.glaze.name.lower())),
        ("q", "dented", lambda b: "dented" in b.remark),
        ("code", s.buckets["thick"].code.lower(), lambda b: b.code == s.buckets["thick"].code),
    ]
    for text in ("06", "05", "5", "6", "^6", "10", "14"):
        cone = Cone.parse(text)
        found.append(
            (
                "cone",
                text,
                of_fill(
                    lambda f, c=cone: bool(f.glaze.cone_low) and f.glaze.cone_low <= c <= f.glaze.cone_high
                ),
            )
        )
    found += [("kind", k, of_fill(lambda f, k=k: f.glaze.kind == k)) for k in Glaze.Kind.values]
    found += [("place", str(p.pk), within(p)) for p in Place.objects.all()]
    found += [("glaze", str(g.pk), of_fill(lambda f, g=g: f.glaze == g)) for g in s.glazes.values()]
    return found


def query(*chosen):
    """The query string of some cases."""
    return urlencode([(name, value) for name, value, _fit in chosen])
