"""Units on screen. Everything is stored in °C, g, mL and mm; a person chooses what is shown."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal

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


def volume(ml: Decimal | float | None) -> str:
    """
    >>> volume(750), volume(7500)
    ('750 mL', '7.5 L')
    >>> with shown_as(temperature="c", amounts="us"): volume(750), volume(7500)
    ('25.4 fl oz', '1.98 US gal')
    """
    if ml is None:
        return ""
    amount = float(ml)
    if _amounts.get() == "us":
        # US gallon of 231 cubic inches, NIST Handbook 44, appendix C.
        gallons = amount / 3785.411784
        return f"{gallons:.3g} US gal" if abs(gallons) >= 1 else f"{gallons * 128:.3g} fl oz"
    return f"{amount / 1000:.3g} L" if abs(amount) >= 1000 else f"{amount:.0f} mL"


def temperature(celsius: float | None) -> str:
    """
    >>> temperature(1222)
    '1222\xa0°C'
    >>> with shown_as(temperature="f", amounts="metric"): temperature(1222)
    '2232\xa0°F'
    """
    if celsius is None:
        return ""
    if _temperature.get() == "f":
        return f"{celsius * 9 / 5 + 32:.0f}\u00a0°F"
    return f"{celsius:.0f}\u00a0°C"


def degrees(celsius: float) -> float:
    """A temperature as a bare number in the unit that the person chose, for a form or a scale.

    >>> with shown_as(temperature="f", amounts="metric"): degrees(100)
    212.0
    """
    return celsius * 9 / 5 + 32 if _temperature.get() == "f" else float(celsius)


def from_degrees(shown: float) -> float:
    """The °C that somebody meant by a number in their own unit."""
    return (shown - 32) * 5 / 9 if _temperature.get() == "f" else float(shown)


def per_hour(c_per_hour: float) -> float:
    """A rate of °C/h as a bare number in the unit that the person chose."""
    return c_per_hour * 9 / 5 if _temperature.get() == "f" else float(c_per_hour)


def from_per_hour(shown: float) -> float:
    return shown * 5 / 9 if _temperature.get() == "f" else float(shown)


def temperature_unit() -> str:
    """
    >>> temperature_unit()
    '°C'
    """
    return "°F" if _temperature.get() == "f" else "°C"


def rate(c_per_hour: float | None) -> str:
    """
    >>> rate(60)
    '60\xa0°C/h'
    """
    return "" if c_per_hour is None else f"{per_hour(c_per_hour):.0f}\u00a0{temperature_unit()}/h"


def difference(celsius: float) -> str:
    """A difference between temperatures, without its sign.

    >>> difference(-10)
    '10\xa0°C'
    >>> with shown_as(temperature="f", amounts="metric"): difference(-10)
    '18\xa0°F'
    """
    if _temperature.get() == "f":
        return f"{abs(celsius) * 9 / 5:.0f}\u00a0°F"
    return f"{abs(celsius):.0f}\u00a0°C"
