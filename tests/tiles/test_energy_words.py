"""What a firing took, in words: rounded and never cut off, and an upper bound only upwards."""

import pytest

from tiles.calc.energy import energy
from tiles.energy_used import Used
from tiles.wear_words import cost_words, kwh_words

# Hours of climb, kW, duty in percent, kWh by the meter; then the words at 0.31 a kWh.
SAID = [
    ((11.42, 3.6, None, None), "at most 50 kWh", "at most 16 EUR"),
    ((11.42, 9.6, 55, None), "about 60 kWh (48 to 72)", "about 19 EUR (15 to 22)"),
    ((None, None, None, 61.5), "61.5 kWh by the meter", "19.07 EUR"),
    ((1.1, 3.6, 50, None), "about 2.0 kWh (1.6 to 2.4)", "about 0.61 EUR (0.49 to 0.74)"),
]


@pytest.mark.parametrize(("known", "took", "cost"), SAID)
def test_no_finer_than_it_is_known_and_rounded(known, took, cost):
    used = Used(energy(*known), 1, 0.31, "EUR")
    assert kwh_words(used) == took
    assert cost_words(used).replace("\u00a0", " ") == cost
