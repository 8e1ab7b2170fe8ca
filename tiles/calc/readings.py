"""The readings of a log: packed for keeping, and put together from batches that come in any order.

A reading is a whole second and a temperature, kept to a tenth of a degree; NaN is a reading at which the instrument
said nothing. A log that is read every few seconds takes one to two bytes for each reading
(tests/tiles/test_readings.py holds it to that).
"""

import zlib
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Seconds = NDArray[np.int64]
Celsius = NDArray[np.float64]

LOWEST_C, HIGHEST_C = -50.0, 1500.0
LONGEST_S = 14 * 24 * 3600
MOST_READINGS = 500_000

_FIRST = b"1"
_NOTHING = -32768
_LEVEL = 6


class ReadingsError(ValueError):
    """Readings that cannot be kept: `code` says why, `params` what was given."""

    def __init__(self, code: str, **params: Any) -> None:
        super().__init__(code)
        self.code, self.params = code, params


def pack(seconds: ArrayLike, celsius: ArrayLike) -> bytes:
    """Readings as bytes: the steps in time and in temperature, byte by byte of each number together, then zlib.

    `seconds` are whole, from 0 to LONGEST_S, rising; `celsius` is -50 to 1500 °C or NaN and is rounded to a tenth.
    Raises ReadingsError: lengths, not_rising, out_of_range.

    >>> seconds, celsius = unpack(pack([0, 60, 120], [20.04, float("nan"), 24.0]))
    >>> seconds.tolist(), celsius.tolist()
    ([0, 60, 120], [20.0, nan, 24.0])
    """
    at = np.asarray(seconds, dtype=np.int64)
    said = np.asarray(celsius, dtype=np.float64)
    if at.shape != said.shape or at.ndim != 1:
        raise ReadingsError("lengths")
    if at.size and (at[0] < 0 or at[-1] > LONGEST_S or (np.diff(at) <= 0).any()):
        raise ReadingsError("not_rising")
    silent = np.isnan(said)
    if ((said < LOWEST_C) | (said > HIGHEST_C)).any():
        raise ReadingsError("out_of_range")
    tenths = np.where(silent, _NOTHING, np.rint(np.where(silent, 0, said) * 10)).astype("<i2")
    steps = np.diff(at, prepend=0).astype("<u4")
    changes = np.diff(tenths.astype(np.int32), prepend=0).astype("<i2")  # wraps round, and back again
    planes = (
        steps.view(np.uint8).reshape(-1, 4).T.tobytes() + changes.view(np.uint8).reshape(-1, 2).T.tobytes()
    )
    return _FIRST + zlib.compress(planes, _LEVEL)


def unpack(data: bytes | memoryview) -> tuple[Seconds, Celsius]:
    """What `pack` packed. Raises ReadingsError 'damaged'.

    >>> unpack(pack([], []))[0].size
    0
    """
    raw = bytes(data)
    if raw[:1] != _FIRST:
        raise ReadingsError("damaged")
    try:
        planes = np.frombuffer(zlib.decompress(raw[1:]), dtype=np.uint8)
        count = planes.size // 6
        steps = planes[: 4 * count].reshape(4, count).T.copy().view("<u4").ravel()
        changes = planes[4 * count :].reshape(2, count).T.copy().view("<i2").ravel()
    except (zlib.error, ValueError) as error:
        raise ReadingsError("damaged") from error
    tenths = np.cumsum(changes.astype(np.int64)).astype("<i2")
    celsius = np.where(tenths == _NOTHING, np.nan, tenths / 10)
    return np.cumsum(steps.astype(np.int64)), celsius


def one_for_each_second(seconds: ArrayLike, celsius: ArrayLike) -> tuple[Seconds, Celsius]:
    """The readings in the order of time, one for each second: the hottest, and any before none.

    So it makes no difference in which order readings come, or how often.

    >>> seconds, celsius = one_for_each_second([60, 0, 60, 60], [21, 20, 22, float("nan")])
    >>> seconds.tolist(), celsius.tolist()
    ([0, 60], [20.0, 22.0])
    """
    at = np.asarray(seconds, dtype=np.int64)
    said = np.asarray(celsius, dtype=np.float64)
    if at.size == 0:
        return at, said
    order = np.argsort(at, kind="stable")
    at, said = at[order], said[order]
    starts = np.flatnonzero(np.diff(at, prepend=at[0] - 1))
    return at[starts], np.fmax.reduceat(said, starts)


def merge(one: tuple[ArrayLike, ArrayLike], other: tuple[ArrayLike, ArrayLike]) -> tuple[Seconds, Celsius]:
    """Two sets of readings on one clock as one: see `one_for_each_second`. The temperatures are rounded as kept.

    >>> merge(([0], [20.0]), ([0, 5], [20.04, 20.5]))[1].tolist()
    [20.0, 20.5]
    """
    seconds = np.concatenate([np.asarray(one[0], np.int64), np.asarray(other[0], np.int64)])
    celsius = np.concatenate([np.asarray(one[1], np.float64), np.asarray(other[1], np.float64)])
    return one_for_each_second(seconds, np.rint(celsius * 10) / 10)


def fahrenheit_to_celsius(fahrenheit: ArrayLike) -> Celsius:
    """
    >>> fahrenheit_to_celsius([32, 212]).tolist()
    [0.0, 100.0]
    """
    return (np.asarray(fahrenheit, dtype=np.float64) - 32) / 1.8
