"""Which look decides whether a zone is sound, and when a count allows a word. The rule stands in DEVELOPERS.md."""

from datetime import date

import pytest

from tiles.calc.sound import ZoneLook, judgement, look_that_counts
from tiles.calc.wilson import Share

FIRINGS = [("b", "bisque"), ("g", "glaze")]


def look(firing="g", day=1, at=0, **says):
    return ZoneLook(firing, date(2026, 5, day), at, **says)


@pytest.mark.parametrize(
    ("looks", "firings", "sound"),
    [
        ([], FIRINGS, None),
        ([look()], FIRINGS, True),
        ([look(has_fault=True)], FIRINGS, False),
        ([look(has_damage=True)], FIRINGS, False),
        ([look(verdict="not_again")], FIRINGS, False),
        ([look(verdict="change")], FIRINGS, True),
        # Crazing weeks later; also when the later look was written down first.
        ([look(), look(day=20, has_fault=True)], FIRINGS, False),
        ([look(day=20, at=1, has_fault=True), look(at=2)], FIRINGS, False),
        # What was seen once does not heal: a later look that says nothing of it takes nothing back.
        ([look(has_fault=True), look(day=20)], FIRINGS, False),
        ([look(has_damage=True), look(day=20, verdict="again")], FIRINGS, False),
        # A verdict is a judgement: the latest that was given counts, and silence is none.
        ([look(verdict="not_again"), look(day=20)], FIRINGS, False),
        ([look(verdict="not_again"), look(day=20, verdict="change")], FIRINGS, True),
        ([look(day=20, verdict="again"), look(verdict="not_again", at=9)], FIRINGS, True),
        # Two of one day: what was noted last.
        ([look(at=2, verdict="not_again"), look(at=1, verdict="again")], FIRINGS, False),
        # Refired: what was seen before is of another glaze.
        ([look(has_fault=True)], [*FIRINGS, ("r", "refire")], None),
        ([look(has_fault=True), look("r", 2)], [*FIRINGS, ("r", "refire")], True),
        # Lustre afterwards leaves the glaze as it was.
        ([look()], [*FIRINGS, ("o", "overglaze")], True),
        ([look("o", 3, has_fault=True)], [*FIRINGS, ("o", "overglaze")], False),
        # Nothing but bisque has melted nothing.
        ([look("b")], [("b", "bisque")], None),
    ],
)
def test_what_was_seen_after_the_last_glaze_firing_decides(looks, firings, sound):
    found = look_that_counts(looks, firings)
    assert (found.is_sound if found else None) is sound


@pytest.mark.parametrize(
    ("low", "high", "word"),
    [
        (0.51, 0.9, "mostly"),
        (0.5, 0.9, "cannot_say"),
        (0.3, 0.7, "cannot_say"),
        (0.1, 0.5, "cannot_say"),
        (0.1, 0.49, "seldom"),
    ],
)
def test_a_word_only_where_the_interval_lies_on_one_side(low, high, word):
    assert judgement(Share(1, 2, low, high)) == word
