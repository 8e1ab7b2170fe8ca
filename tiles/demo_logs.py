"""The demo's logs: each firing as it was planned, with the noise of an instrument; one kiln is cooling right now.

The hottest readings in fixtures/demo/logs.csv are set so that the logs agree with the witness cones in witness.csv:
Heron's instrument reads for the top and the middle, and the bottom gets less than it says.
"""

from dataclasses import replace
from datetime import timedelta

import numpy as np

from studio.demo import DemoHouse, rows
from tiles.actions.events import add_event
from tiles.actions.live import MOST_AT_ONCE, send_readings
from tiles.actions.logs import keep_log
from tiles.calc.log_marks import find_marks
from tiles.calc.readings import Celsius, Seconds
from tiles.calc.schedule import path, segments_of
from tiles.models import Firing

ROOM_C = 18.0
# A kiln at 1200 °C glows its heat away, near the room it only warms the air: K/h, and K/h for each K⁴. Invented.
GLOW = 1.5e-11
NOISE_C = 0.6


def load_logs(house: DemoHouse) -> None:
    for row in rows("logs"):
        firing = Firing.objects.get(pk=house.get("firing", row["firing"]).pk)
        seconds, celsius = _fired(firing, row)
        began = (firing.started_at or house.now).replace(microsecond=0)
        if row["source"] == "live":
            _send(house, firing, seconds, celsius)
        else:
            keep_log(
                by=house.manager,
                firing=firing,
                seconds=seconds,
                celsius=celsius,
                begins_at=began,
                marks=find_marks(seconds, celsius),
                how={"file": f"{firing.kiln.name.lower()}-{firing.number}.csv"},
            )
        if row["vent_closed_c"]:
            hot = int(np.argmax(celsius > float(row["vent_closed_c"])))
            at = began + timedelta(seconds=int(seconds[hot]))
            add_event(by=house.manager, firing=firing, words="Vent closed", at=at)


def _fired(firing: Firing, row: dict[str, str]) -> tuple[Seconds, Celsius]:
    """Up as planned to the hottest reading of the row, then down as a kiln cools; a reading each `every_s`."""
    segments = segments_of(firing.plan)
    top = max(range(len(segments)), key=lambda i: segments[i].to_c)
    peak = float(row["peak_c"])
    planned = [replace(one, to_c=min(one.to_c, peak)) for one in segments[:top]]
    up_minutes, up = path([*planned, replace(segments[top], to_c=peak)])
    down = _cooling(peak, float(row["cooling_h"]), float(row["hours"]) * 60 - up_minutes[-1])
    minutes = np.concatenate([up_minutes, up_minutes[-1] + 1 + np.arange(down.size)])
    every = int(row["every_s"])
    seconds = np.arange(0, int(minutes[-1] * 60), every, dtype=np.int64)
    noise = np.random.default_rng(firing.number).normal(0, NOISE_C, seconds.size)
    # The peak stays what the row says, so that noise moves no cone.
    heat = np.interp(seconds / 60, minutes, np.concatenate([up, down])) + noise
    return seconds, np.rint(np.minimum(heat, peak) * 10) / 10


def _cooling(peak: float, hours: float, minutes: float) -> Celsius:
    """°C minute by minute: by glowing, and towards the room with a time constant of so many hours."""
    heat, found = peak, []
    room = (ROOM_C + 273.15) ** 4
    for _minute in range(max(int(minutes), 1)):
        heat -= ((heat - ROOM_C) / hours + GLOW * ((heat + 273.15) ** 4 - room)) / 60
        found.append(heat)
    return np.array(found)


def _send(house: DemoHouse, firing: Firing, seconds: Seconds, celsius: Celsius) -> None:
    """As the kiln's instrument did, up to the moment at which the demo is loaded."""
    began = firing.started_at or house.now
    sent = [
        {"at": began + timedelta(seconds=int(second)), "celsius": float(heat)}
        for second, heat in zip(seconds, celsius, strict=True)
        if began + timedelta(seconds=int(second)) <= house.now
    ]
    for start in range(0, len(sent), MOST_AT_ONCE):
        send_readings(by=house.manager, firing=firing, readings=sent[start : start + MOST_AT_ONCE])
