"""The cone of a tile under every combination of evidence, against the decided order stated once more, as a table.

DESIGN: "A tile's cone = witness at its position, else witness of the firing, else the log, else the target marked
'planned only'." A witness that was read and is not down is evidence too. A cone is down at 90 degrees
(T. Frederich, http://potters.org/subject60350.htm).
"""

from itertools import product

import pytest

from inventory.calc.cones import Cone
from tiles.actions.evidence import cone_seen
from tiles.calc.witness import WitnessReading
from tiles.models import Firing

FIVE, SIX, SEVEN, TEN = (Cone.parse(code) for code in ("5", "6", "7", "10"))

# What one place's cones can say: nothing stands there, it was not read, it is nearly down, one is down, two are.
AT_A_PLACE = {
    "none": [],
    "unread": [(SIX, None)],
    "short": [(SIX, 75), (SEVEN, 0)],
    "down": [(SIX, 90), (SEVEN, 75)],
    "two down": [(FIVE, 110), (SIX, 90), (SEVEN, 89)],
}
ELSEWHERE = {"none": [], "unread": [(FIVE, None)], "short": [(FIVE, 89)], "down": [(FIVE, 91)]}
FOUND = {"down": SIX, "two down": SIX}  # the hottest cone down at the tile's own place

# Of place and elsewhere, and only these: what the whole firing certainly saw. None: nothing was read.
WHOLE_FIRING = {
    ("none", "none"): None,
    ("none", "unread"): None,
    ("none", "short"): ("short", FIVE),
    ("none", "down"): ("down", FIVE),
    ("unread", "none"): None,
    ("unread", "unread"): None,
    ("unread", "short"): ("short", FIVE),
    ("unread", "down"): ("down", FIVE),
    ("short", "none"): ("short", SIX),
    ("short", "unread"): ("short", SIX),
    ("short", "short"): ("short", FIVE),
    ("short", "down"): ("short", SIX),
    ("down", "none"): ("down", SIX),
    ("down", "unread"): ("down", SIX),
    ("down", "short"): ("short", FIVE),
    ("down", "down"): ("down", FIVE),
    ("two down", "none"): ("down", SIX),
    ("two down", "unread"): ("down", SIX),
    ("two down", "short"): ("short", FIVE),
    ("two down", "down"): ("down", FIVE),
}


def decided(state, place, here, elsewhere, log, target):
    """(cone, basis, cone below), first come first served."""
    if state in ("planned", "loading", "firing"):
        return None, "", None
    if place == "top" and here in FOUND:
        return FOUND[here], "witness_here", None
    if place == "top" and here == "short":
        return None, "witness_short", SIX
    whole = WHOLE_FIRING[here, elsewhere]
    if whole and whole[0] == "down":
        return whole[1], "witness_firing", None
    if whole:
        return None, "witness_short", whole[1]
    if log:
        return log, "log", None
    if target and state in ("cooling", "unloaded"):
        return target, "planned", None
    return None, "", None


EVERYTHING = list(
    product(
        Firing.State.values,
        ["", "top", "shelf of no cone"],
        AT_A_PLACE,
        ELSEWHERE,
        [None, TEN],
        [None, SEVEN],
    )
)


def test_there_are_as_many_as_there_can_be():
    assert len(EVERYTHING) == 6 * 3 * 5 * 4 * 2 * 2
    assert set(WHOLE_FIRING) == set(product(AT_A_PLACE, ELSEWHERE))


@pytest.mark.parametrize("state", Firing.State.values)
def test_the_evidence_speaks_in_the_decided_order(state):
    for case in EVERYTHING:
        if case[0] != state:
            continue
        _state, place, here, elsewhere, log, target = case
        readings = [WitnessReading("top", cone, bend) for cone, bend in AT_A_PLACE[here]]
        readings += [WitnessReading("bottom", cone, bend) for cone, bend in ELSEWHERE[elsewhere]]
        firing = Firing(state=state, log_cone=log, target_cone=target)
        assert cone_seen(firing, place, readings) == decided(*case), case
        assert cone_seen(firing, place, readings[::-1]) == decided(*case), case
