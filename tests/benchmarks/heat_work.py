"""How long heat work takes and how far the fit is from the table. Not collected with the tests:

pytest -q -s -n0 tests/benchmarks/heat_work.py
"""

import io
from time import perf_counter, process_time

import numpy as np
import pytest
from django.core.management import call_command

from inventory.calc.cones import SELF_SUPPORTING, Cone, published
from tests import make
from tiles.calc.cone_fit import PUBLISHED_TYPES, end_points, fit_together
from tiles.calc.heat_work import approach, end_point_c, heat_work
from tiles.calc.readings import pack
from tiles.models import Firing, FiringLog


def log(count):
    """A noisy firing to 1222 °C with a hold, in so many readings."""
    minutes = np.linspace(0, 1000, count)
    corners = np.interp(minutes, [0, 600, 620, 1000], [20, 1222, 1222, 500])
    return minutes, corners + np.random.default_rng(1).normal(0, 0.5, count)


def milliseconds(call, times=10):
    call()
    start = process_time()
    for _ in range(times):
        call()
    return (process_time() - start) / times * 1000


def test_how_it_grows_with_the_readings():
    print("\nreadings   all cones   running approach (ms of one core)")  # noqa: T201
    for count in (1_000, 10_000, 100_000, 1_000_000):
        readings = log(count)
        whole, running = (milliseconds(lambda c=call: c(*readings)) for call in (heat_work, approach))  # noqa: B023
        print(f"{count:>9} {whole:>9.1f} {running:>9.1f}")  # noqa: T201


def test_how_far_the_public_function_is_from_each_type():
    print()  # noqa: T201
    for ours, theirs in PUBLISHED_TYPES.items():
        off = [(end_point_c(c, r, ours) - end, c.code, r) for (c, r), end in published()[theirs].items()]
        rms = np.sqrt(np.mean([miss**2 for miss, *_ in off]))
        worst = max(off, key=lambda miss: abs(miss[0]))
        print(f"{ours}: {len(off)} cells, rms {rms:.2f} °C, worst {worst}")  # noqa: T201


def test_what_the_fit_says_of_a_rate_that_it_was_not_shown():
    cells = published()[SELF_SUPPORTING]
    print("\nleft out   mean   worst error of its cells (°C)")  # noqa: T201
    for rate in (15.0, 60.0, 150.0):
        fitted = fit_together({cell: end for cell, end in cells.items() if cell[1] != rate})
        found = {}
        for one in fitted:
            ends = end_points(np.array([one.e_kj_per_mol]), np.array([one.end_60_c]), np.array([rate]))
            found[one.cone] = float(ends[0, 0])
        off = [abs(found[cone] - end) for (cone, at), end in cells.items() if at == rate]
        print(f"{rate:>6.0f} {np.mean(off):>8.1f} {max(off):>7.1f}")  # noqa: T201


@pytest.mark.parametrize("every", [20, 1])
def test_a_thousand_firings_worked_out_anew(db, every):
    """After new coefficients: in one firing of twenty the whole cone is another one, too, or in all of them."""
    make.studio()
    kiln, (minutes, celsius) = make.kiln(), log(1500)
    now = heat_work(minutes, celsius).cone
    firings = [
        Firing(number=n, kiln=kiln, target_cone=now, log_cone=Cone.parse("5") if n % every == 0 else now)
        for n in range(1, 1001)
    ]
    Firing.objects.bulk_create(firings)
    readings = pack((minutes * 60).astype(np.int64), celsius)
    FiringLog.objects.bulk_create(
        FiringLog(firing=firing, source="file", readings=readings, count=1500, last_s=60_000)
        for firing in firings
    )
    start, cpu = perf_counter(), process_time()
    out = io.StringIO()
    call_command("reckon_logs", stdout=out)
    print(f"\n1000 firings: {perf_counter() - start:.1f} s, {process_time() - cpu:.1f} s of one core")  # noqa: T201
    assert "1000 of them" in out.getvalue()
    assert out.getvalue().count("is now") == 1000 // every
