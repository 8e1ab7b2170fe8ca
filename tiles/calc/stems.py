"""What is left of an English word without its ending, so that 'crazed' and 'crazing' are one."""

import re

_WORD = re.compile(r"\w+")
_ENDING = re.compile(r"(?<=\w{3})(ing|ed|es|s|e)$")
_TWICE = re.compile(r"(\w)\1$")


def stem(word: str) -> str:
    """A word in small letters without its ending, and with one letter where the ending doubled it.

    >>> stem("Pinholes") == stem("pinholing"), stem("runs") == stem("running"), stem("ash")
    (True, True, 'ash')
    """
    return _TWICE.sub(r"\1", _ENDING.sub("", word.casefold()))


def stems(text: str) -> set[str]:
    """The stem of every word.

    >>> sorted(stems("Crazed, and it crawls"))
    ['and', 'crawl', 'craz', 'it']
    """
    return {stem(word) for word in _WORD.findall(text)}
