"""How long the demo's 160 drawings take on two cores. Not collected with the tests, because a time is no verdict:

pytest -q -s -n0 tests/benchmarks/drawn_tiles.py
"""

from time import perf_counter, process_time

from tiles.demo_drawing import drawings
from tiles.drawn import Coat, TileLook, draw

PICTURES = 160
FAULTS = ((), (("crazing", ""),), (("crawling", "upper part"),), (("blistering", ""), ("pinholing", "")))


def looks():
    for seed in range(PICTURES):
        under = Coat("#e6e1d4", "#c9b79a", "opaque")
        over = Coat(
            "#2f7f8c", "#9a8a5a", "translucent", "upper", movement_mm=seed % 20, mottle=0.8, speckle=0.2
        )
        yield TileLook(
            seed, "#d8cfc0", (under, over), "glossy", FAULTS[seed % 4], ("combed", "stamped")[seed % 2]
        )


def test_all_the_drawings():
    one = process_time()
    draw(next(looks()))
    print(f"\none drawing: {process_time() - one:.2f} s of one core")  # noqa: T201
    start = perf_counter()
    size = sum(len(picture) for picture in drawings(looks()))
    print(f"{PICTURES} drawings: {perf_counter() - start:.1f} s, {size / 1e6:.1f} MB")  # noqa: T201
