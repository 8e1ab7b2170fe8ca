"""The table of causes as a CSV: read with the row and column of everything that is wrong with it."""

import csv
import io
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from tiles.calc.causes import MOST_PRIOR, MOST_WEIGHT, OBSERVATIONS, Cause

COLUMNS = (
    "fault",
    "cause",
    "words",
    "prior",
    "evidence",
    "tell_apart",
    "remedy",
    "trial",
    "source",
    "mark",
)
MARKS = ("read", "memory", "own")
LONGEST = {"words": 160, "remedy": 400, "trial": 200, "source": 300}
NEEDED = ("words", "remedy", "trial")
MOST_ROWS = 300
FORMULA = "=+-@"
CODE = re.compile(r"[a-z][a-z0-9_]{0,39}")
PIECE = re.compile(r"([a-z_]+)\s*([+-]?\d+(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong, and where: `row` as a spreadsheet counts it (the head is 1; 0: the whole table)."""

    code: str
    row: int = 0
    column: str = ""
    said: str = ""


def read_table(text: str, faults: Collection[str]) -> tuple[list[Cause], list[Problem]]:
    """The causes of a table, and everything that is wrong with it; the causes are of use only where nothing is.

    Comma, semicolon or tab as a spreadsheet writes them; `faults` are the codes that a tile can have.

    >>> head = ",".join(COLUMNS)
    >>> row = "\\nrunning,thick_coat,Too thick,%s,thick +2; fired_over -1,,Thin it,Thinner,,own"
    >>> read_table(head + row % "2", ["running"])[1]
    []
    >>> problem = read_table(head + row % "much", ["running"])[1][0]
    >>> problem.code, problem.row, problem.column, problem.said
    ('prior', 2, 'prior', 'much')
    """
    try:
        filled = [(n, line) for n, line in enumerate(cells(text), start=1) if any(line)]
    except csv.Error:  # one cell beyond all measure: most often a quote that was never closed
        return [], [Problem("unreadable")]
    if not filled:
        return [], [Problem("empty")]
    head = [name.lower() for name in filled[0][1]]
    missing = [name for name in COLUMNS if name not in head]
    unknown = [name for name in head if name not in COLUMNS]
    if missing or unknown or len(head) != len(COLUMNS):
        lacking = [Problem("column_missing", filled[0][0], name) for name in missing]
        strange = [Problem("column_unknown", filled[0][0], name) for name in unknown]
        return [], lacking + strange or [Problem("column_twice", filled[0][0])]
    if len(filled) - 1 > MOST_ROWS:
        return [], [Problem("too_many", said=str(MOST_ROWS))]
    causes, problems, known = [], [], set()
    for n, line in filled[1:]:
        if any(line[len(head) :]):
            problems.append(Problem("cells", n))
            continue
        row = dict(zip(head, [*line, *[""] * len(head)], strict=False))
        found = list(_wrong(row, n, faults))
        if (row["fault"], row["cause"]) in known:
            found.append(Problem("twice", n, "cause", row["cause"]))
        known.add((row["fault"], row["cause"]))
        problems += found
        if not found:
            causes.append(_cause(row))
    return (causes, problems) if causes or problems else ([], [Problem("empty")])


def cells(text: str) -> list[list[str]]:
    """The rows of a CSV, trimmed, without the mark by which a download keeps a spreadsheet from reckoning a cell.

    >>> cells("a;b\\n'=1; x ")
    [['a', 'b'], ['=1', 'x']]
    """
    lines = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=None), delimiter=_delimiter(text))
    return [[_plain(cell.strip()) for cell in line] for line in lines]


def _plain(cell: str) -> str:
    return cell[1:] if cell[:1] == "'" and cell[1:2] in FORMULA and cell[1:2] else cell


def _delimiter(text: str) -> str:
    head = text.lstrip("\ufeff\r\n ").splitlines()[:1]
    return max(",;\t", key=head[0].count) if head else ","


def _wrong(row: dict[str, str], n: int, faults: Collection[str]) -> Iterator[Problem]:
    if row["fault"] not in faults:
        yield Problem("fault", n, "fault", row["fault"])
    if not CODE.fullmatch(row["cause"]):
        yield Problem("code", n, "cause", row["cause"])
    for name in NEEDED:
        if not row[name]:
            yield Problem("needed", n, name)
    for name, most in LONGEST.items():
        if len(row[name]) > most:
            yield Problem("long", n, name, str(most))
    prior = _number(row["prior"])
    if prior is None or not 0 < prior <= MOST_PRIOR:
        yield Problem("prior", n, "prior", row["prior"])
    if row["tell_apart"] and row["tell_apart"] not in OBSERVATIONS:
        yield Problem("observation", n, "tell_apart", row["tell_apart"])
    if row["mark"] not in MARKS:
        yield Problem("mark", n, "mark", row["mark"])
    if row["mark"] == "read" and not row["source"]:
        yield Problem("source", n, "source")
    yield from _wrong_evidence(row["evidence"], n)


def _wrong_evidence(text: str, n: int) -> Iterator[Problem]:
    seen = set()
    for piece in _pieces(text):
        found = PIECE.fullmatch(piece)
        if not found:
            yield Problem("piece", n, "evidence", piece)
        elif found[1] not in OBSERVATIONS:
            yield Problem("observation", n, "evidence", found[1])
        elif not 0 < abs(float(found[2])) <= MOST_WEIGHT:
            yield Problem("weight", n, "evidence", piece)
        elif found[1] in seen:
            yield Problem("piece_twice", n, "evidence", found[1])
        else:
            seen.add(found[1])


def _pieces(text: str) -> list[str]:
    return [piece.strip() for piece in text.split(";") if piece.strip()]


def _number(text: str) -> float | None:
    return float(text) if re.fullmatch(r"\d{1,3}(\.\d{1,3})?", text) else None


def _cause(row: dict[str, str]) -> Cause:
    pieces = [PIECE.fullmatch(piece) for piece in _pieces(row["evidence"])]
    return Cause(
        fault=row["fault"],
        code=row["cause"],
        words=row["words"],
        prior=float(row["prior"]),
        evidence=tuple((found[1], float(found[2])) for found in pieces if found),
        tell_apart=row["tell_apart"],
        remedy=row["remedy"],
        trial=row["trial"],
        source=row["source"],
        mark=row["mark"],
    )
