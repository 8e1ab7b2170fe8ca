"""No order of edits loses an outcome or reuses a number. What must be there is kept beside the database."""

from contextlib import suppress

from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from studio.errors import Refused
from tests import make
from tiles import actions as wall
from tiles.models import Outcome, Tile

STEPS = ("add", "reserve", "write", "replace", "remove", "correct", "lose", "find", "fire", "refire", "look")
steps = st.tuples(st.sampled_from(STEPS), st.integers(0, 2), st.integers(0, 3))


class Bench:
    """Tiles, and beside them what has been said of each."""

    def __init__(self) -> None:
        self.by = make.person("technician")
        self.glazes = [make.glaze() for _i in range(2)]
        self.numbers: list[str] = []
        self.looks: dict = {}  # outcome -> (tile, its colour in words)
        self.said = 0
        self.reserve(0, 1)
        # The first tile has been looked at already, so that there is something to lose from the first step on.
        for step in ("add", "fire", "look"):
            getattr(self, step)(0, 0)

    def do(self, step: str, which: int, n: int) -> None:
        with suppress(Refused):  # then the bench stands as it stood
            getattr(self, step)(which, n)

    def tile(self, which: int) -> Tile:
        return Tile.objects.get(number=self.numbers[which % len(self.numbers)])

    def reserve(self, which, n):
        self.numbers += [tile.number for tile in wall.reserve_numbers(by=self.by, count=n + 1)]

    def write(self, which, n):
        """A number that may be taken: low ones mostly are, some have yet to be reserved."""
        self.numbers.append(wall.add_tile(by=self.by, number=str(which * 2 + n)).number)

    def add(self, which, n):
        glaze = self.glazes[n % 2]
        wall.add_layer(by=self.by, tile=self.tile(which), glaze=glaze, area=("whole", "upper")[n // 2])

    def replace(self, which, n):
        layers = [{"glaze": self.glazes[i % 2]} for i in range(n)]
        wall.set_layers(by=self.by, tile=self.tile(which), layers=layers)

    def remove(self, which, n):
        for layer in self.tile(which).layers.all()[n : n + 1]:
            wall.remove_layer(by=self.by, layer=layer)

    def correct(self, which, n):
        for layer in self.tile(which).layers.all()[:1]:
            wall.change_layer(by=self.by, layer=layer, values={"glaze": self.glazes[n % 2]})

    def lose(self, which, n):
        wall.mark_tiles(by=self.by, tiles=[self.tile(which)], mark=("lost", "broken")[n % 2])

    def find(self, which, n):
        wall.mark_tiles(by=self.by, tiles=[self.tile(which)], mark="found")

    def fire(self, which, n, kind="glaze"):
        make.fire(make.firing(kind=kind, target="6"), self.tile(which), stop=n == 3)

    def refire(self, which, n):
        self.fire(which, n, kind="refire")

    def look(self, which, n):
        self.said += 1
        tile, colour = self.tile(which), f"look {self.said}"
        made = wall.record_outcome(by=self.by, tile=tile, colour=colour)
        self.looks[made.pk] = (tile.pk, colour)


# Every step once on the tile that has been looked at, so that what loses a look does so at once.
EVERY_STEP = [
    ("add", 0, 0), ("correct", 0, 1), ("remove", 0, 1), ("replace", 0, 2), ("lose", 0, 0), ("find", 0, 0),
    ("refire", 0, 3), ("refire", 0, 0), ("look", 0, 0), ("write", 0, 3), ("reserve", 0, 3),
]  # fmt: skip


class AnyOrder(TestCase):
    # An order costs seconds, so the first that fails is shown as it was found.
    @settings(max_examples=20, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
    @example(EVERY_STEP)
    @given(st.lists(steps, min_size=8, max_size=24))
    def test_no_order_of_edits_loses_an_outcome_or_reuses_a_number(self, order):
        make.studio()
        bench = Bench()
        for step in order:
            bench.do(*step)
        kept = {look.pk: (look.tile_id, look.colour) for look in Outcome.objects.all()}
        assert kept == bench.looks
        assert len({number.upper() for number in bench.numbers}) == len(bench.numbers)
        assert sorted(Tile.objects.values_list("number", flat=True)) == sorted(bench.numbers)
        for tile in Tile.objects.exclude(state__in=["lost", "broken"]):
            positions = list(tile.layers.order_by("position").values_list("position", flat=True))
            assert positions == list(range(1, len(positions) + 1))
            assert (tile.state == "recorded") == tile.outcomes.exists()
