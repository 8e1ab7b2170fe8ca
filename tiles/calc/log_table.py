"""The rows of a log file: what parts the columns, what stands before the first row, and what the columns are called."""

import csv
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from tiles.calc.log_cells import kind_of
from tiles.calc.log_text import LogFileError
from tiles.calc.log_thousands import ungrouped

# In the order in which they are believed where two would do.
DELIMITERS = {"tab": "\t", "semicolon": ";", "comma": ",", "pipe": "|", "space": " "}
LOOKED_AT = 300
# No time, temperature or name is longer, and patterns would try each blank of a longer cell anew.
LONGEST_CELL = 200
_SAYING = {"number", "degrees", "open", "clock", "moment", "day"}


@dataclass(frozen=True, slots=True)
class Table:
    """`skip` lines stand before the first row of readings; `header` are the columns' names, or none."""

    delimiter: str
    decimal_comma: bool
    skip: int
    header: tuple[str, ...]
    columns: int


def lines_of(text: str) -> list[str]:
    """The lines that say something."""
    return [line for line in text.splitlines() if line.strip(" \t;,|\x1a\ufeff")]


def cells_of(lines: Sequence[str], delimiter: str) -> list[list[str]]:
    """Each line as its cells; quotes are read as spreadsheets write them, and what is too long to say anything is cut.

    Raises LogFileError no_rows.

    >>> cells_of(['1;"a;b"', "2;c"], "semicolon"), cells_of(["0:01  20"], "space")
    ([['1', 'a;b'], ['2', 'c']], [['0:01', '20']])
    """
    if delimiter == "space":
        return [[_cut(cell) for cell in line.split()] for line in lines]
    rows = csv.reader(_whole(lines), delimiter=DELIMITERS[delimiter], skipinitialspace=True)
    try:
        return [[_cut(cell) for cell in row] for row in rows]
    except csv.Error as error:  # a cell of more than 100 000 letters
        raise LogFileError("no_rows") from error


def _cut(cell: str) -> str:
    return cell if len(cell) <= LONGEST_CELL else cell[:LONGEST_CELL] + "…"


def _whole(lines: Sequence[str]) -> Sequence[str]:
    """A quote that is opened and never closed would swallow the rest of the file."""
    return [line.replace('"', "") if line.count('"') % 2 else line for line in lines]


def table_of(lines: Sequence[str]) -> Table:
    """How a file's lines are a table. Raises LogFileError: no_rows, one_column.

    >>> table_of(["Kiln 4", "time;temp", "0;20,5", "60;21,0", "120;22,5"])
    Table(delimiter='semicolon', decimal_comma=True, skip=2, header=('time', 'temp'), columns=2)
    """
    head = lines[:LOOKED_AT]
    best: tuple[int, int, int, str] | None = None
    for name in DELIMITERS:
        rows = cells_of(head, name)
        start, count, width = _longest_run(rows)
        if width >= 2 and count and (best is None or count > best[0]):
            best = (count, start, width, name)
    if best is None:
        alone = sum(kind_of(line) in _SAYING for line in head)
        raise LogFileError("one_column" if alone >= 2 else "no_rows")
    _count, start, width, name = best
    rows = cells_of(head, name)
    return Table(
        delimiter=name,
        decimal_comma=_has_decimal_comma(rows[start:], name),
        skip=start,
        header=_header(rows[:start], width),
        columns=width,
    )


def table_at(lines: Sequence[str], delimiter: str, skip: int) -> Table:
    """The table that begins after `skip` lines and is parted by `delimiter`."""
    rows = cells_of(lines[: skip + LOOKED_AT], delimiter)
    widths = Counter(len(row) for row in rows[skip:])
    width = max(widths, key=lambda width: (widths[width], width), default=0)
    return Table(
        delimiter, _has_decimal_comma(rows[skip:], delimiter), skip, _header(rows[:skip], width), width
    )


def _longest_run(rows: list[list[str]]) -> tuple[int, int, int]:
    """Where the rows of readings begin, how many there are, and how many cells most of them have."""
    widths = Counter(_saying(row) and len(row) for row in rows)
    widths.pop(0, None)
    widths.pop(False, None)
    if not widths:
        return 0, 0, 0
    width, count = max(widths.items(), key=lambda item: (item[1], item[0]))
    fits = [len(row) == width and bool(_saying(row)) for row in rows]
    # One line of a title block may happen to look like a row: the readings are what goes on.
    starts = [i for i, fit in enumerate(fits) if fit and (i + 1 == len(fits) or all(fits[i : i + 3]))]
    return (starts[0] if starts else fits.index(True)), count, width


def _saying(row: Sequence[str]) -> bool:
    """A row of readings holds two things that are numbers or times."""
    return sum(kind_of(cell) in _SAYING for cell in row) >= 2


def _has_decimal_comma(rows: list[list[str]], delimiter: str) -> bool:
    columns = [ungrouped(column(rows, i)) for i in range(max(map(len, rows), default=0))]
    if delimiter == "comma":
        return any("," in cell for cells in columns for cell in cells if kind_of(cell) == "number")
    written = [cell for cells in columns for cell in cells if kind_of(cell) in ("number", "degrees")]
    return sum("," in cell for cell in written) > sum("." in cell for cell in written)


def _header(rows: list[list[str]], width: int) -> tuple[str, ...]:
    """The names above the columns; a second line of units is set behind them."""
    above = [[cell.strip() for cell in row] for row in rows if any(cell.strip() for cell in row)][-2:]
    named = [row for row in above if len(row) == width and any(kind_of(cell) == "text" for cell in row)]
    if not named or len(above[-1]) != width:
        return ()
    if len(named) == 2 and all(len(cell) <= 8 for cell in named[1]):
        return tuple(f"{name} ({unit})" if unit else name for name, unit in zip(*named, strict=True))
    return tuple(named[-1])


def column(rows: Sequence[Sequence[str]], index: int) -> list[str]:
    """One column, empty where a row is too short."""
    return [row[index] if index < len(row) else "" for row in rows]


def is_numeric(cells: Sequence[str]) -> bool:
    """Whether most of a column is numbers (an open circuit is a kind of number)."""
    kinds = Counter(kind_of(cell) for cell in cells)
    said = sum(count for kind, count in kinds.items() if kind != "nothing")
    return said > 0 and kinds["number"] + kinds["degrees"] + kinds["open"] >= 0.7 * said
