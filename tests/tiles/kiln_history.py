"""Firings with log and witness cones for tests of what a kiln does; temperatures are made up, cones are the table's."""

from datetime import timedelta

import numpy as np
from django.utils import timezone

from inventory.calc.cones import Cone, celsius_at_60
from tests import make
from tiles import actions as wall
from tiles.actions.logs import keep_log
from tiles.models import Firing, FiringLog

SPACING = 120


def climbed(to_c, *, room=20.0):
    """Up to `to_c` at 60 °C/h, then down by itself to 45 °C: Newton's law, a tenth of the excess an hour."""
    up = np.arange(room, to_c, SPACING / 60)
    hours = np.arange(0, 40, SPACING / 3600)
    down = room + (to_c - room) * np.exp(-0.1 * hours)
    celsius = np.round(np.append(up, down[down > 45]), 1)
    return np.arange(celsius.size) * SPACING, celsius


def bend(short_c):
    """How far a cone bends that lacks so many °C; see tiles/calc/kiln_offset.py for the source."""
    return int(np.interp(short_c, (0, 8 / 1.8, 35 / 1.8, 40 / 1.8), (90, 60, 15, 0)))


def fired(kiln, offsets, *, peak_c=1222, days_ago=10, log=True, cools=False, cones=("5", "6", "7"), **fields):
    """Unloaded; `offsets` are the shelves' true ones. The log ends at its peak: cones go on bending after it."""
    firing = make.firing(kiln, **fields)
    witness = [
        {
            "position": position,
            "cone": Cone.parse(code),
            "bend_degrees": bend(celsius_at_60(Cone.parse(code)) - (peak_c + offset)),
        }
        for position, offset in offsets.items()
        for code in cones
    ]
    make.fire(firing, witness=witness)
    Firing.objects.filter(pk=firing.pk).update(started_at=timezone.now() - timedelta(days=days_ago))
    if log:
        seconds, celsius = climbed(peak_c)
        end = celsius.size if cools else int(celsius.argmax()) + 1
        keep_log(by=make.manager(), firing=firing, seconds=seconds[:end], celsius=celsius[:end])
    firing.refresh_from_db()
    return firing


def cooling(kiln, *, until_c=300.0, late_s=0, begins=True, **fields):
    """Firing and cooling since; its newest reading is `late_s` old and stands at about `until_c`."""
    firing = make.firing(kiln, **fields)
    for state in ("firing", "cooling"):
        wall.move_firing(by=make.manager(), firing=firing, state=state)
    seconds, celsius = climbed(1222)
    end = int(celsius.argmax()) + int(np.argmax(celsius[celsius.argmax() :] < until_c))
    last = timezone.now() - timedelta(seconds=late_s)
    keep_log(by=make.manager(), firing=firing, seconds=seconds[:end], celsius=celsius[:end])
    begins_at = last - timedelta(seconds=int(seconds[end - 1])) if begins else None
    FiringLog.objects.filter(firing=firing).update(begins_at=begins_at)
    firing.refresh_from_db()
    return firing
