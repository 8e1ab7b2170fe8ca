"""What a log file seems to say: which column is the time, which the temperature, and in what they are counted."""

import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from tiles.calc.log_cells import clocks, day_first, kind_of, numbers, unit_of
from tiles.calc.log_counted import counted_in, is_m_s
from tiles.calc.log_table import (
    LOOKED_AT,
    Table,
    cells_of,
    column,
    is_numeric,
    lines_of,
    table_at,
    table_of,
)
from tiles.calc.log_text import LogFileError

TIME_KINDS = (
    "moment", "clock", "unix", "h_m_s", "m_s", "days", "hours", "minutes", "seconds", "milliseconds",
)  # fmt: skip
UNITS = ("c", "f", "k")
RESETS = ("", "join", "longest")
# No kiln is hotter in °C: cone 14 is down at 1384 (fixtures/cones.csv), so a higher figure is °F.
HOTTEST_C = 1400
KELVIN_ROOM = (263, 323)
_NO_NAME = {"", "c", "f", "cf", "fc", "deg", "degrees"}  # of a column that may say the unit, such as 'C/F'
_UNIT_WORDS = {"c": "c", "°c": "c", "celsius": "c", "f": "f", "°f": "f", "fahrenheit": "f"}

_TIME = re.compile(
    r"\b(time|stamp|date|elapsed|runtime|clock|zeit|uhr|heure|temps|hora|mins?|minutes|secs?|seconds|hours?)\b"
    r"|timestamp|datetime|laufzeit|\b[sh]\b"
)
_TEMPERATURE = re.compile(
    r"temp|celsius|fahrenheit|°|\bpv\b|actual|current|measured|reading|thermocouple|\btc\b|\bist\b"
)
_TARGET = re.compile(r"target|set.?p|\bset\b|\bsp\b|\bsv\b|soll|goal|program")
_NOT_IT = re.compile(r"rate|ambient|board|cold.?junction|room|output|percent|%|power|index|error|duty")


@dataclass(frozen=True, slots=True)
class Guess:
    """How a file is read. Columns count from 0; None where there is none. `day` is a date beside a clock.

    `resets`: what is done where the time starts anew: nothing said, join the parts on, or take the longest.
    """

    delimiter: str
    decimal_comma: bool
    skip: int
    header: tuple[str, ...]
    columns: int
    time: int
    time_kind: str
    temperature: int
    unit: str
    day: int | None = None
    days_first: bool = True
    target: int | None = None
    resets: str = ""

    def plain(self) -> dict[str, Any]:
        """As JSON keeps it; `Guess.of` is the way back."""
        return {**asdict(self), "header": list(self.header)}

    @classmethod
    def of(cls, plain: dict[str, Any]) -> "Guess":
        return cls(**{**plain, "header": tuple(plain["header"])})


def guess(text: str, *, anyhow: bool = False) -> Guess:
    """The likeliest reading of a file. Raises LogFileError: one_row, no_rows, one_column, no_time, no_temperature.

    `anyhow`: where no column looks like the time or the temperature the first ones are taken, so that somebody who
    knows better can say which they are.

    >>> found = guess("min,temp F,set F\\n0,68,70\\n1,70,72\\n2,72,74\\n")
    >>> found.time_kind, found.temperature, found.target, found.unit
    ('minutes', 1, 2, 'f')
    """
    lines = lines_of(text)
    table = table_of(lines)
    rows = cells_of(lines[table.skip : table.skip + LOOKED_AT], table.delimiter)
    rows = [row for row in rows if len(row) == table.columns] or rows
    if len(lines) - table.skip < 2:
        raise LogFileError("one_row")
    # The whole file tells the unit of time better than its cold beginning.
    spread = lines[table.skip :: max((len(lines) - table.skip) // LOOKED_AT, 1)]
    far = [row for row in cells_of(spread, table.delimiter) if len(row) == table.columns] or rows
    time, kind, day = _time(table, rows, anyhow)
    temperature, target = _temperatures(table, far, {time, day} | _times(table, rows), anyhow)
    heat = numbers(column(far, temperature), decimal_comma=table.decimal_comma)
    unit = _unit_beside(table, far, temperature) or _unit(
        table, lines[: table.skip], column(far, temperature), temperature, heat
    )
    if kind == "":
        kind = counted_in(numbers(column(far, time), decimal_comma=table.decimal_comma), heat, unit)
    elif kind == "h_m_s" and is_m_s(column(far, time), heat, unit):
        kind = "m_s"
    return Guess(
        delimiter=table.delimiter,
        decimal_comma=table.decimal_comma,
        skip=table.skip,
        header=table.header,
        columns=table.columns,
        time=time,
        time_kind=kind,
        temperature=temperature,
        unit=unit,
        day=day,
        days_first=day_first(column(far, time if day is None else day)),
        target=target,
    )


def told_otherwise(text: str, how: Guess, **values: Any) -> Guess:
    """The guess with what somebody knows better; other columns or another first row have their own header."""
    now = replace(how, **values)
    if (now.delimiter, now.skip) != (how.delimiter, how.skip):
        lines = lines_of(text)
        table = table_at(lines, now.delimiter, now.skip)
        now = replace(now, header=table.header, columns=table.columns)
    return now


def _name(table: Table, index: int) -> str:
    return table.header[index].lower().replace("_", " ") if table.header else ""


def _kinds(rows: Sequence[Sequence[str]], index: int) -> str:
    """What most of a column is."""
    found = [kind for row in rows if index < len(row) if (kind := kind_of(row[index])) != "nothing"]
    return max(set(found), key=found.count) if found else "nothing"


def _times(table: Table, rows: list[list[str]]) -> set[int]:
    """Columns that are times by their looks or their name."""
    named = {i for i in range(table.columns) if table.header and _TIME.search(_name(table, i))}
    named -= {i for i in named if _TEMPERATURE.search(_name(table, i)) and "time" not in _name(table, i)}
    return named | {i for i in range(table.columns) if _kinds(rows, i) in ("moment", "clock", "day")}


def _time(table: Table, rows: list[list[str]], anyhow: bool) -> tuple[int, str, int | None]:
    """The time's column, its kind ('' where it is a number of something), and the column of the day."""
    kinds = [_kinds(rows, i) for i in range(table.columns)]
    if "moment" in kinds:
        return kinds.index("moment"), "moment", None
    if "clock" in kinds:
        index = kinds.index("clock")
        day = kinds.index("day") if "day" in kinds else None
        return (
            index,
            "clock" if day is not None else _clock_kind(_name(table, index), column(rows, index)),
            day,
        )
    rising = []
    for i in range(table.columns):
        values = numbers(column(rows, i), decimal_comma=table.decimal_comma)
        values = values[np.isfinite(values)]
        if kinds[i] != "number" or values.size < 2:
            continue
        if 1e9 < np.median(values) < 5e9 or np.median(values) > 1e12:  # or in thousandths, and so on
            return i, "unix", None
        steps = np.diff(values)
        if (steps > 0).mean() >= 0.9 or (steps < 0).mean() >= 0.9 or _TIME.search(_name(table, i)):
            rising.append(i)
    named = [i for i in rising if _TIME.search(_name(table, i)) and not _TEMPERATURE.search(_name(table, i))]
    for index in named or ([] if table.header and _all_named(table) else rising):
        return index, _named_kind(_name(table, index)), None
    if anyhow:
        return 0, "", None
    raise LogFileError("no_time")


def _all_named(table: Table) -> bool:
    """With a full header a column that is not called a time is none."""
    return all(
        _TEMPERATURE.search(_name(table, i)) or _NOT_IT.search(_name(table, i)) for i in range(table.columns)
    )


def _clock_kind(name: str, cells: Sequence[str]) -> str:
    said = clocks(cells)
    said = said[np.isfinite(said)]
    runs = "elapsed" in name or "runtime" in name or "run time" in name
    if runs or said[0] < 300 or said.max() >= 86400:
        # 00:30, 01:00, 01:30 two parts at a time: a controller that counts minutes and seconds, or hours.
        return "h_m_s"
    return "clock"


def _named_kind(name: str) -> str:
    for kind, words in {
        "milliseconds": r"\bms\b|\bmilli|\bmsec",
        "seconds": r"\bs\b|\bsec",
        "minutes": r"\bmin",
        "hours": r"\bh\b|\bhrs?\b|\bhour|std",
        "days": r"\bdays?\b",
    }.items():
        if re.search(words, name):
            return kind
    return ""


def _temperatures(
    table: Table, rows: list[list[str]], times: set[Any], anyhow: bool
) -> tuple[int, int | None]:
    """The measured temperature and the target, by their names, else by what they do."""
    numeric = [i for i in range(table.columns) if i not in times and is_numeric(column(rows, i))]
    target = next((i for i in numeric if _TARGET.search(_name(table, i))), None)
    named = [
        i
        for i in numeric
        if i != target and _TEMPERATURE.search(_name(table, i)) and not _NOT_IT.search(_name(table, i))
    ]
    open_ = [i for i in numeric if i != target and not _NOT_IT.search(_name(table, i))]
    warm = {i: warmth for i in open_ if (warmth := _warmth(table, rows, i)) > 0}
    for index in named or sorted(warm, key=lambda i: -warm[i]) or open_[: bool(table.header)]:
        return index, target
    if anyhow:
        return next((i for i in range(table.columns) if i not in times), table.columns - 1), target
    raise LogFileError("no_temperature")


def _warmth(table: Table, rows: list[list[str]], index: int) -> float:
    """How far a column climbs, as far as a kiln can."""
    values = numbers(column(rows, index), decimal_comma=table.decimal_comma)
    values = values[np.isfinite(values)]
    if values.size == 0 or abs(values).max() > 5000:
        return -1
    return float(np.ptp(values))


def _unit(table: Table, before: Sequence[str], cells: Sequence[str], index: int, heat: Any) -> str:
    """By what is written with it, over it or before it; else by how hot it gets."""
    written = {unit for cell in cells if (unit := unit_of(cell))}
    if len(written) == 1:
        return written.pop()
    name = _name(table, index)
    for words in (name, " ".join(before).lower()):
        if re.search(r"°\s?f|\bdeg\.?\s?f|fahrenheit|[\s(\[]f\b|units?\W+f\b", words):
            return "f"
        if re.search(r"°\s?c|\bdeg\.?\s?c|celsius|[\s(\[]c\b|units?\W+c\b", words):
            return "c"
    if _is_kelvin(name, heat):
        return "k"
    usual = heat[np.isfinite(heat) & (heat < 3000)]
    return "f" if usual.size and np.percentile(usual, 99) > HOTTEST_C else "c"


def _unit_beside(table: Table, rows: list[list[str]], temperature: int) -> str:
    """C or F in a column of its own: one that is called a unit, or the one after the temperature if it has no name."""
    for index in range(table.columns):
        name = _name(table, index)
        is_next = index == temperature + 1 and re.sub(r"\W", "", name) in _NO_NAME
        if index == temperature or not (is_next or re.search(r"\bunits?\b|\bscale\b", name)):
            continue
        said = {_UNIT_WORDS.get(cell.strip().lower(), "") for cell in column(rows, index)}
        if len(said) == 1 and said != {""}:
            return said.pop()
    return ""


def _is_kelvin(name: str, heat: Any) -> bool:
    """K over the column may be the type of its thermocouple: then it begins at no room's temperature in kelvin."""
    first = heat[np.isfinite(heat)][:5]
    called = re.search(r"kelvin|[\s(\[]k\b", name) is not None
    return called and bool(first.size) and KELVIN_ROOM[0] < float(np.median(first)) < KELVIN_ROOM[1]
