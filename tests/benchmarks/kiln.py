"""How well offsets and forecasts hold on simulated kilns. Run: python -m tests.benchmarks.kiln"""

import time

import numpy as np

from tests.tiles.test_cooling import TO_C
from tests.tiles.test_cooling import Kiln as CoolingKiln
from tests.tiles.test_kiln_offset import one_kiln
from tiles.calc.cooling import forecast
from tiles.calc.kiln_offset import shelf_offset


def offsets(seed: int) -> tuple[float, float]:
    """Share of 500 kilns whose truth lies in the 80 % interval, and the median width of it in °C."""
    rng = np.random.default_rng(seed)
    held, widths = 0, []
    for _kiln in range(500):
        truth, seen = one_kiln(rng)
        found = shelf_offset("middle", seen, "k_standard")
        held += found.low_c <= truth <= found.high_c
        widths.append(found.high_c - found.low_c)
    return held / 500, float(np.median(widths))


def forecasts(share: float) -> tuple[float, float, float]:
    """Median error in parts of what was left, share held by the 80 % interval, and seconds of CPU each."""
    errors, held, begun = [], 0, time.process_time()
    kilns = [CoolingKiln(seed, spacing=300) for seed in range(1000, 1200)]
    begun = time.process_time()
    for kiln in kilns:
        seconds, read = kiln.at(share)
        found, true = forecast(seconds, read, TO_C), kiln.seconds[kiln.end]
        errors.append(abs(found.middle_s - true) / (true - seconds[-1]))
        held += found.low_s <= true <= found.high_s
    return float(np.median(errors)), held / len(kilns), (time.process_time() - begun) / len(kilns)


if __name__ == "__main__":
    for seed in range(4):
        share, width = offsets(seed)
        print(f"offsets, seed {seed}: truth held {share:.1%}, median width {width:.1f} °C")  # noqa: T201
    for share in (0.25, 0.5, 0.75):
        error, held, cost = forecasts(share)
        told = f"median error {error:.1%}, truth held {held:.1%}, {cost * 1000:.0f} ms each"
        print(f"cooling at {share:.0%}: {told}")  # noqa: T201
