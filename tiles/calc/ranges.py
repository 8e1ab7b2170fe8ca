"""Tiles named together: '312-321, 330' as a person types it."""

import re

MOST = 200
_RANGE = re.compile(
    r"([A-Za-z][A-Za-z._-]*)?([0-9]{1,9})\s*(?:-|–|—|\.\.)\s*([A-Za-z][A-Za-z._-]*)?([0-9]{1,9})"
)


def numbers_in(text: str) -> list[str]:
    """The numbers that `text` names, each once, in its order: single ones and ranges, between commas or spaces.

    A range goes from number to number of one prefix, the prefix said once or twice; a nought in front is kept.
    ValueError('backwards' | 'two_prefixes' | 'too_many', what was typed).

    >>> numbers_in("312-315, 330 s8-S10")
    ['312', '313', '314', '315', '330', 's8', 's9', 's10']
    >>> numbers_in("008-010")
    ['008', '009', '010']
    """
    found: list[str] = []
    # The dash may stand between spaces; what is left is parted by commas, semicolons and spaces.
    joined = re.sub(r"\s*(–|—|\.\.)\s*|\s+-\s+", "-", text)
    for word in re.split(r"[,;\s]+", joined.strip()):
        if match := _RANGE.fullmatch(word):
            found += _between(word, *match.groups())
        elif word:
            found.append(word)
        if len(found) > MOST:
            raise ValueError("too_many", text)
    return list(dict.fromkeys(found))


def _between(word: str, prefix: str | None, first: str, again: str | None, last: str) -> list[str]:
    prefix = prefix or ""
    if again and again.upper() != prefix.upper():
        raise ValueError("two_prefixes", word)
    if int(last) < int(first):
        raise ValueError("backwards", word)
    if int(last) - int(first) >= MOST:
        raise ValueError("too_many", word)
    width = len(first) if first.startswith("0") else 0
    return [f"{prefix}{number:0{width}d}" for number in range(int(first), int(last) + 1)]


def natural(number: str) -> list[tuple[bool, int, str]]:
    """A key that sorts tile numbers as they count: T2 before T10, each prefix for itself.

    >>> sorted(["T10", "T2", "312", "A1"], key=natural)
    ['312', 'A1', 'T2', 'T10']
    """
    parts = re.split(r"([0-9]+)", number.upper())
    return [(not p.isdigit(), int(p) if p.isdigit() else 0, p) for p in parts if p]


def shortened(numbers: list[str]) -> str:
    """The other way round: numbers in words that `numbers_in` understands.

    >>> shortened(["312", "313", "314", "330", "A7"])
    '312-314, 330, A7'
    """
    runs: list[list[str]] = []
    for number in numbers:
        if runs and _follows(runs[-1][-1], number):
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def _follows(one: str, other: str) -> bool:
    if not (a := re.fullmatch(r"(.*?)([0-9]{1,9})", one)) or not (
        b := re.fullmatch(r"(.*?)([0-9]{1,9})", other)
    ):
        return False
    noughts = a[2].startswith("0") or b[2].startswith("0")
    return a[1] == b[1] and int(b[2]) == int(a[2]) + 1 and not noughts
