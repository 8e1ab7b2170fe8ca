"""The columns `use` and `food` against the pure rule, over whole histories written by the real actions.

What the rule is given is kept beside the database while the history is written, never read back from it.
"""

from datetime import timedelta
from decimal import Decimal

from django.utils import timezone
from hypothesis import example, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from inventory import actions as shelf
from inventory.calc.standing import FillFacts, standing
from inventory.models import Fill, Glaze
from studio.models import Studio
from tests import make

KINDS = ("contaminated", "wrong_label", "dried_out", "settled_hard", "other", "not_for_food")
LABELS = ("", "food_safe", "dinnerware_safe", "none", "not_for_food")
LEVELS = ("full", "three_quarters", "half", "quarter", "nearly_empty", "empty")

# Few values, so that readings fall on the very ends of a window and of the days after which they are old.
gravities = st.sampled_from([Decimal(n) / 1000 for n in (1439, 1440, 1441, 1500, 1501)])
days = st.sampled_from([0, 1, 2, 5, 30, 31, 35, 60, 61])
LOW, HIGH = Decimal("1.440"), Decimal("1.500")
TIED = [("reading", Decimal("1.439"), 5), ("reading", LOW, 5)]
steps = st.one_of(
    st.tuples(st.just("reading"), gravities, days),
    st.tuples(st.just("flag"), st.sampled_from(KINDS), st.just(None)),
    st.tuples(
        st.just("close"),
        st.integers(0, 20),
        st.sampled_from(["withdrawn", "mistaken", "put_right", "emptied"]),
    ),
    st.tuples(st.just("level"), st.sampled_from(LEVELS), st.just(None)),
    st.tuples(st.just("label"), st.sampled_from(LABELS), st.just(None)),
    st.tuples(st.just("window"), st.none() | st.tuples(gravities, gravities), st.just(None)),
    st.tuples(st.just("inside"), st.sampled_from(["Pb", "Cd", "Co", "stain"]), st.booleans()),
    st.tuples(st.just("origin"), st.sampled_from(["bought", "mixed"]), st.just(None)),
)


class History:
    """A fill, and beside it what is true of it."""

    def __init__(self) -> None:
        self.by = make.manager()
        self.now = timezone.now()
        self.glaze = make.glaze(by=self.by, origin="bought")
        self.fill = make.fill(
            self.glaze, bucket_=make.bucket(by=self.by, capacity_ml=None), by=self.by, days_ago=80
        )
        self.origin, self.label, self.level, self.window = "bought", "", "", None
        self.readings: list[tuple] = []
        self.open: list = []
        self.inside: set[str] = set()
        self.ended = False

    def reading(self, sg, days_ago):
        at = self.now - timedelta(days=days_ago)
        shelf.add_reading(by=self.by, fill=self.fill, specific_gravity=sg, taken_at=at)
        self.readings.append((at, len(self.readings), sg))

    def inside_(self, substance, is_taken_back):
        row = shelf.note_substance(by=self.by, glaze=self.glaze, substance=substance, read_in="maker")
        if is_taken_back:
            shelf.take_back_substance(by=self.by, row=row, reason="misread")
        else:
            self.inside.add(substance)

    def flag(self, kind, _):
        flag = shelf.raise_flag(by=self.by, fill=self.fill, kind=kind, note="seen")
        if kind == "other" or kind not in [f.kind for f in self.open]:
            self.open.append(flag)

    def close(self, which, outcome):
        if not self.open:
            return
        flag = self.open.pop(which % len(self.open))
        if outcome == "withdrawn":
            shelf.withdraw_flag(by=self.by, flag=flag)
            return
        shelf.clear_flag(by=self.by, flag=flag, outcome=outcome, note="looked")
        if outcome == "emptied":
            self.ended, self.level = True, "empty"

    def level_(self, level, _):
        if not self.ended:
            shelf.add_stock_entry(by=self.by, fill=self.fill, kind="level", level=level)
            self.level = level

    def label_(self, label, _):
        if self.label != "not_for_food" and not (self.origin == "mixed" and label):
            shelf.change_fill(by=self.by, obj=Fill.objects.get(pk=self.fill.pk), values={"label": label})
            self.label = label

    def window_(self, window, _):
        low, high = sorted(window) if window else (None, None)
        self._change_glaze(sg_low=low, sg_high=high)
        self.window = (low, high) if window else None

    def origin_(self, origin, _):
        self._change_glaze(origin=origin)
        self.origin = origin

    def _change_glaze(self, **values):
        shelf.change_glaze(by=self.by, obj=Glaze.objects.get(pk=self.glaze.pk), values=values)

    def write(self, steps):
        for name, one, other in steps:
            (getattr(self, f"{name}_", None) or getattr(self, name))(one, other)

    def facts(self, now, stale_after_days) -> FillFacts:
        latest = max((r for r in self.readings if r[0] <= now), default=None)
        kinds = {flag.kind for flag in self.open}
        low, high = self.window or (None, None)
        return FillFacts(
            contaminated="contaminated" in kinds,
            wrong_label="wrong_label" in kinds,
            dried_out="dried_out" in kinds,
            settled_hard="settled_hard" in kinds,
            other="other" in kinds,
            not_for_food_flag="not_for_food" in kinds,
            sg=latest and latest[2],
            sg_age_days=latest and (now - latest[0]) / timedelta(days=1),
            sg_low=low,
            sg_high=high,
            stale_after_days=stale_after_days,
            level=self.level,
            origin=self.origin,
            label=self.label,
            toxic_inside=bool(self.inside & {"Pb", "Cd"}),
        )


class StandingOnTheDatabase(TestCase):
    @settings(max_examples=60, deadline=None)
    @given(
        steps=st.lists(steps, max_size=10),
        stale=st.sampled_from([1, 30, 60]),
        looked_back=st.sampled_from([0, 5, 30]),
    )
    # Exactly as old as a reading may be; two readings of one moment, of which the later written counts.
    @example(steps=[("reading", LOW, 30)], stale=30, looked_back=0)
    @example(steps=[("window", (LOW, HIGH), None), *TIED], stale=30, looked_back=0)
    @example(steps=[("window", (LOW, HIGH), None), *reversed(TIED)], stale=30, looked_back=0)
    def test_columns_and_reasons_are_those_of_the_rule(self, steps, stale, looked_back):
        studio = make.studio()
        Studio.objects.filter(pk=studio.pk).update(sg_stale_after_days=stale)
        history = History()
        history.write(steps)
        now = history.now - timedelta(days=looked_back)
        wanted = standing(history.facts(now, stale))

        read = Fill.objects.with_standing(now).select_related("glaze").get(pk=history.fill.pk)
        assert (read.use, read.food) == (wanted.use, wanted.food)
        assert read.sg_is_stale == bool(wanted.notes)
        assert read.standing == wanted
        # Asking by a column finds the fill under its own standing and no other.
        asked = Fill.objects.with_standing(now).filter(use=wanted.use, food=wanted.food)
        assert list(asked.values_list("pk", flat=True)) == [history.fill.pk]
