"""Units on screen. Everything is stored in °C, g, mL and mm; a person chooses what is shown."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_temperature: ContextVar[str] = ContextVar("temperature", default="c")
_amounts: ContextVar[str] = ContextVar("amounts", default="metric")


@contextmanager
def shown_as(*, temperature: str, amounts: str) -> Iterator[None]:
    """Show °C ('c') or °F ('f') and 'metric' or 'us' amounts within the block."""
    marks = _temperature.set(temperature), _amounts.set(amounts)
    try:
        yield
    finally:
        _temperature.reset(marks[0])
        _amounts.reset(marks[1])


def temperature(celsius: float | None) -> str:
    """
    >>> temperature(1222)
    '1222 °C'
    >>> with shown_as(temperature="f", amounts="metric"): temperature(1222)
    '2232 °F'
    """
    if celsius is None:
        return ""
    if _temperature.get() == "f":
        return f"{celsius * 9 / 5 + 32:.0f} °F"
    return f"{celsius:.0f} °C"
