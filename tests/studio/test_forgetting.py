"""The rule by which a name goes out of a text: never a word that may be something else."""

import re

from hypothesis import example, given, settings
from hypothesis import strategies as st

from studio.forgetting import Names

WORDS = ["Rose", "Weir", "Blue", "rweir", "weirs", "Roseweir", "ask", "sieve", "Ash", "é", "Rose's", "(Weir)"]
GAPS = [" ", "  ", "\n", ", ", "-", ""]
KNOWN = ["Rose Weir", "Rose", "rweir", "Weir"]
NEW = "former member 3"


def names():
    return Names(KNOWN, NEW)


@settings(max_examples=25)
@example([("Rose", "  "), ("Weir", " ")])
@given(st.lists(st.tuples(st.sampled_from(WORDS), st.sampled_from(GAPS)), max_size=8))
def test_only_the_full_name_goes_and_every_other_word_stays(pieces):
    """Against another way to say it: cut the text where the whole full name stands; what lies between is untouched."""
    text = "".join(word + gap for word, gap in pieces)
    parts = re.split(r"(?<!\w)[Rr]ose\s+[Ww]eir(?!\w)", text)
    assert names().in_a_name(text) == NEW.join(parts)
    # A text that is a name and nothing else, however it is spaced, has a test of its own below.
    if " ".join(text.split()).casefold() not in {name.casefold() for name in KNOWN}:
        assert names().in_words(text) == NEW.join(parts)


def test_a_text_that_is_nothing_but_a_name_goes_where_people_are_named():
    for text in ("Rose", " rose ", "RWEIR", "Rose  Weir", "weir"):
        assert names().in_words(text) == NEW
    for text in ("Weir Blue", "a rose is a rose", "the weir", "Rose.", "Rosé", ""):
        assert names().in_words(text) == text
    for thing in ("Rose", "Weir", "rweir", "Weir Blue", "rose weirs", "primrose weir"):
        assert names().in_a_name(thing) == thing


def test_a_name_with_signs_of_a_pattern_is_only_a_name():
    odd = Names(["A. (Lin) *", r"\d+ x"], r"\1")
    assert odd.in_words("by A. (Lin) *; not Ax (Lin)") == r"by \1; not Ax (Lin)"
    assert odd.in_words("12 x") == "12 x"


def test_in_data_the_name_goes_beside_its_own_id_only():
    said = {
        "maker": {"id": "7", "name": "Rose"},
        "glaze": {"id": "8", "name": "Rose"},
        "note": ["Rose Weir said", 3],
    }
    told = names().in_data(said, "7")
    assert told == {
        "maker": {"id": "7", "name": NEW},
        "glaze": {"id": "8", "name": "Rose"},
        "note": [f"{NEW} said", 3],
    }
