"""What is odd in a log is found where it is, and a sound log is not accused."""

import numpy as np
import pytest

from tests.tiles.log_files import readings
from tiles.calc.log_marks import MOST_OF_A_KIND, counted, find_marks, mark
from tiles.log_sentences import mark_words

SECONDS, CELSIUS = map(np.array, zip(*readings(), strict=True))


def changed(at=slice(None), to=None, *, keep=None):
    celsius = CELSIUS.astype(float)
    if to is not None:
        celsius[at] = to
    kept = np.ones(SECONDS.size, dtype=bool) if keep is None else keep
    return SECONDS[kept], celsius[kept]


def without(first, last):
    kept = np.ones(SECONDS.size, dtype=bool)
    kept[first:last] = False
    return kept


SLOPE = SECONDS[300:410]
# What was done to the log, and the marks (code, from, to in minutes, params).
ODD = {
    "nothing": (changed(), []),
    "an hour is missing": (changed(keep=without(200, 260)), [("gap", 199, 260, {"minutes": 61})]),
    "one reading far off": (changed(300, 1400), [("spike", 300, 300, {"celsius": 1400})]),
    "two readings far below": (changed(slice(300, 302), 500), [("spike", 300, 301, {"celsius": 500})]),
    "room temperature and back": (
        changed(slice(300, 330), 21),
        [("dropout", 300, 329, {"celsius": 768, "back": True})],
    ),
    "dead from then on": (
        changed(slice(400, None), 19),
        [("dropout", 400, 699, {"celsius": 1018, "back": False})],
    ),
    "stuck": (
        changed(slice(200, 300), 520.0),
        [("stuck", 200, 299, {"celsius": 520, "minutes": 99})],
    ),
    "silent": (changed(slice(300, 310), np.nan), [("silent", 300, 309, {"readings": 10})]),
    "°F for a while": (
        changed(slice(300, 410), CELSIUS[300:410] * 1.8 + 32),
        [("unit_jump", 300, 409, {"celsius": 768})],
    ),
}


@pytest.mark.parametrize("what", ODD)
def test_each_is_marked_where_it_is(what):
    (seconds, celsius), expected = ODD[what]
    found = [(m["code"], m["from"] // 60, m["to"] // 60, m["params"]) for m in find_marks(seconds, celsius)]
    assert found == expected


def test_noise_and_coarse_steps_are_no_marks():
    noise = np.random.default_rng(6).normal(0, 1.5, SECONDS.size)
    assert find_marks(SECONDS, CELSIUS + noise) == []
    assert find_marks(SECONDS[::15], CELSIUS[::15]) == []


def test_what_is_not_the_kiln_is_not_counted():
    (seconds, celsius), _marks = ODD["one reading far off"]
    sound = counted(seconds, celsius, find_marks(seconds, celsius))
    assert np.isnan(sound).sum() == 1
    assert np.nanmax(sound) == CELSIUS.max()
    gap = counted(seconds, celsius, [mark("gap", 0, 6000)])
    assert not np.isnan(gap).any()


def test_of_very_many_the_last_says_how_many_more():
    celsius = CELSIUS.astype(float)
    celsius[20:420:8] = np.nan
    found = find_marks(SECONDS, celsius)
    assert len(found) == MOST_OF_A_KIND
    assert found[-1]["params"]["more"] == 50 - MOST_OF_A_KIND


def test_a_mark_of_one_moment_says_so_and_a_span_names_the_start_once():
    assert mark_words(mark("open_circuit", 30000, 30030, readings=1)).startswith(
        "At 8:20 after its start it gave"
    )
    said = mark_words(mark("silent", 18120, 19680, readings=14))
    assert said == "The instrument gave no temperature from 5:02 to 5:28 after its start."
