"""Logs as controllers of many kinds write them: one invented firing, told in many ways."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from tiles.calc.log_file import read
from tiles.calc.log_guess import guess

START = datetime(2026, 3, 4, 18, 30, tzinfo=UTC)
STEP_S = 60


def heat(minute: int) -> float:
    """150 °C/h to 1100 °C, 60 °C/h to 1222 °C, then cooling: °C to a tenth."""
    first, second = 432, 122
    if minute <= first:
        return round(20 + 2.5 * minute, 1)
    if minute <= first + second:
        return round(1100 + (minute - first), 1)
    return round(20 + 1202 * math.exp(-(minute - first - second) / 400), 1)


def readings(minutes: int = 700) -> list[tuple[int, float]]:
    """(seconds, °C), a reading each minute."""
    return [(STEP_S * minute, heat(minute)) for minute in range(minutes)]


def moment(seconds: int) -> datetime:
    return START + timedelta(seconds=seconds)


def h_m_s(seconds: int) -> str:
    return f"{seconds // 3600}:{seconds % 3600 // 60:02}:{seconds % 60:02}"


def table(row, *, head: str = "", tail: str = "", rows=None) -> str:
    """The readings as lines of `row(seconds, celsius)`."""
    lines = [row(seconds, celsius) for seconds, celsius in (readings() if rows is None else rows)]
    return head + "\n".join(lines) + "\n" + tail


def f(celsius: float) -> float:
    return round(celsius * 1.8 + 32, 1)


def comma(number: float) -> str:
    return str(number).replace(".", ",")


PLAIN = table(lambda s, c: f"{s},{c}", head="seconds,celsius\n")


def read_as_guessed(text, **otherwise):
    """How a text is read most likely, with what is said otherwise, and what that comes to."""
    how = replace(guess(text), **otherwise)
    return how, read(text, how)
