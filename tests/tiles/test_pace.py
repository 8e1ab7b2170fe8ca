"""How fast a kiln climbs by its own logs: neither a jump of its instrument nor a hold is its climb."""

import numpy as np
import pytest

from tiles.calc.pace import climbing, pace_of, rate_at, seen_climbs

SECONDS = np.arange(0, 8 * 3600, 60)
CELSIUS = np.interp(SECONDS / 3600, [0, 4, 5, 8], [20, 820, 820, 1120])


def test_each_hundred_has_its_own_rate_and_what_is_done_hotter_is_done_cooler():
    seen = seen_climbs(SECONDS, CELSIUS)
    assert seen[3] == pytest.approx(200, abs=1)
    assert seen[9] == pytest.approx(100, abs=1)
    assert seen[8] < 80, "an hour was held there"
    pace = pace_of([seen])
    assert [round(rate_at(c, pace)) for c in (50, 750, 850, 1300)] == [200, 200, 100, 100]


@pytest.mark.parametrize("to_c", [300, 650, 1050])
def test_a_jump_of_the_instrument_is_no_climb(to_c):
    jumping = CELSIUS.copy()
    at = int(np.argmax(to_c - 80 < CELSIUS))
    jumping[at : at + 3] = to_c + 20
    assert max(seen_climbs(SECONDS, jumping).values()) < 210
    gone = np.delete(np.arange(SECONDS.size), slice(at, at + 20))
    assert max(seen_climbs(SECONDS[gone], CELSIUS[gone]).values()) < 210


def test_a_climb_takes_as_long_as_its_parts():
    pace = ((500.0, 250.0), (1000.0, 100.0))
    assert climbing(20, 1200, pace)[-1] == (pytest.approx(480 / 250 * 60 + 700 / 100 * 60), 1200)
    assert len(climbing(600, 1200, pace)) == 1
