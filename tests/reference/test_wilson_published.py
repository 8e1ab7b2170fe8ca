"""Wilson's interval against print.

R. G. Newcombe, Statistics in Medicine 17 (1998) 857, Table I, method 3 (score, without continuity correction),
95 %: each row gives r, n and the two limits to four places.
"""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tiles.calc.wilson import Z80, share

NEWCOMBE = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0, 0.1611),
    (1, 29, 0.0061, 0.1718),
]


@pytest.mark.parametrize(("good", "tries", "low", "high"), NEWCOMBE)
def test_the_printed_limits(good, tries, low, high):
    found = share(good, tries, z=1.959964)
    assert (round(found.low, 4), round(found.high, 4)) == (low, high)


@settings(max_examples=25)
@example(good=9, bad=0, z=1.96)
@example(good=0, bad=9, z=Z80)
@given(st.integers(0, 60), st.integers(0, 60), st.sampled_from([Z80, 1.96]))
def test_the_limits_are_where_the_score_test_turns(good, bad, z):
    """Wilson's own definition: at each limit the distance from what was seen is z standard errors of the limit."""
    tries = good + bad
    found = share(good, tries, z)
    if tries == 0:
        assert found is None
        return
    p = good / tries
    assert 0 <= found.low <= p <= found.high <= 1
    for limit in (found.low, found.high):
        if 0 < limit < 1:
            assert abs(p - limit) == pytest.approx(z * (limit * (1 - limit) / tries) ** 0.5, abs=1e-9)


def test_more_good_ones_than_tries_is_an_error():
    with pytest.raises(ValueError, match="within"):
        share(3, 2)
