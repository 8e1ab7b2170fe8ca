"""A lid code as somebody read it: from a wet lid, over the shoulder, out of a noisy room."""

from itertools import product

# Codes hold no 0, O, 1, I or L, so one of these can only be another character misread.
NEVER_WRITTEN = {"0": "DQ", "O": "DQ", "1": "7JT", "I": "7JT", "L": "7JT"}

# Pairs that are both in use: what was typed may be right, so the other is only offered.
EASILY_MIXED_UP = {a: pair for pair in ("8B", "5S", "2Z", "6G", "UV", "DQ") for a in pair}


def normalised(typed: str) -> str:
    """Capitals without spaces, dots and dashes.

    >>> normalised(" k7q-m2p ")
    'K7QM2P'
    """
    return "".join(c for c in typed.upper() if c.isalnum())[:12]


def possible_codes(typed: str) -> set[str]:
    """The codes that `typed` can stand for when each character that no code holds is read as its likenesses.

    >>> sorted(possible_codes("K70M2P"))
    ['K7DM2P', 'K7QM2P']
    """
    return {"".join(chars) for chars in product(*(NEVER_WRITTEN.get(c, c) for c in normalised(typed)[:6]))}


def similar_codes(typed: str) -> set[str]:
    """Codes that differ from `typed` only by characters that are easily mixed up; for offering, not for guessing.

    >>> sorted(similar_codes("K8M"))
    ['KBM']
    """
    found = {
        "".join(chars)
        for code in possible_codes(typed)
        for chars in product(*(EASILY_MIXED_UP.get(c, c) for c in code))
    }
    return found - possible_codes(typed)
