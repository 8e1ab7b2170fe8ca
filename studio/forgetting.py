"""Taking a person's name out of texts without damaging other words. No database: see actions/leaving.py."""

import re
from collections.abc import Iterable
from typing import Any


class Names:
    """The names of one person, and the name that takes their place.

    The rule, because a person may be called Rose or Weir, and so may a glaze:

    - In a text that people write freely (`in_words`) the name goes where the whole text is one of the person's names
      or the log-in name, and where a full name of two or more words stands in it as whole words.
    - In the name of a thing, or wherever it is not known what a text is (`in_a_name`), only the latter.

    A single word within a longer text is left alone: nobody can tell the person from the flower.

    >>> names = Names(["Rose Weir", "Rose", "rweir"], "former member 3")
    >>> names.in_words("ask Rose Weir about Weir Blue"), names.in_words("Rose"), names.in_a_name("Rose")
    ('ask former member 3 about Weir Blue', 'former member 3', 'Rose')
    """

    def __init__(self, known: Iterable[str], new: str) -> None:
        self.new = new
        kept = {" ".join(name.split()) for name in known if name.strip()}
        self._whole = {name.casefold() for name in kept}
        full = sorted((name for name in kept if " " in name), key=len, reverse=True)
        # Any space between the words, and no letter or digit beside them.
        spelled = "|".join(r"\s+".join(map(re.escape, name.split())) for name in full)
        self._full = re.compile(rf"(?<!\w)(?:{spelled})(?!\w)", re.IGNORECASE) if full else None

    def is_one(self, text: str) -> bool:
        """Whether the whole text is one of the names."""
        return " ".join(text.split()).casefold() in self._whole

    def in_a_name(self, text: str) -> str:
        """For the name of a thing: only the full name as whole words goes."""
        return self._full.sub(lambda _found: self.new, text) if self._full else text

    def in_words(self, text: str) -> str:
        """For what people write freely, or where a person is named."""
        return self.new if self.is_one(text) else self.in_a_name(text)

    def in_data(self, value: Any, person_id: str = "") -> Any:
        """For data of any shape: the full name in every text, `name` and `username` beside the person's own `id`."""
        if isinstance(value, str):
            return self.in_a_name(value)
        if isinstance(value, list):
            return [self.in_data(item, person_id) for item in value]
        if not isinstance(value, dict):
            return value
        is_theirs = bool(person_id) and value.get("id") == person_id
        return {
            key: self.new
            if is_theirs and key in ("name", "username") and item
            else self.in_data(item, person_id)
            for key, item in value.items()
        }
