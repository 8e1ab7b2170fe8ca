"""Files that are no log, or a damaged one: each is refused for what is wrong with it, and none takes long."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tiles.log_files import f, moment, read_as_guessed, table
from tiles.calc.log_file import read
from tiles.calc.log_guess import guess
from tiles.calc.log_text import LogFileError, text_of

BAD = {
    "empty": b"",
    "only spaces": b"  \r\n\r\n ",
    "one row": b"s,C\n0,20\n",
    "a header alone": b"time,temperature\n",
    "prose": b"The kiln was hot.\nIt cooled over night.\nWe opened it.\n",
    "one column": b"20\n30\n40\n",
    "no temperature": table(lambda s, c: f"{moment(s)},RAMP,1").encode(),
    "no numbers": table(lambda s, c: f"{s},open", head="s,C\n").encode(),
    "times all over": table(lambda s, c: f"{s * 7919 % 997},{c}", head="s,C\n").encode(),
    "mixed units": table(lambda s, c: f"{s},{c} °C" if s < 900 else f"{s},{f(c)} °F").encode(),
    "mixed units in a column": table(lambda s, c: f"{s},{c},{'C' if s < 9000 else 'F'}").encode(),
    "1e9": table(lambda s, c: f"{s},1e9", head="s,C\n").encode(),
    "years": table(lambda s, c: f"{s * 100},{c}", head="s,C\n").encode(),
    "a time beyond all measure": b"s,C\n0,20\n1e300,30\n",
    "the year 1": b"timestamp,C\n0001-01-01 00:00:00,20\n0001-01-01 00:10:00,30\n",
    "a year to come": b"stamp,C\n4999990000,20\n4999990600,30\n",
    "one endless cell": b"s,C\n" + b"1" * 200_000 + b",20\n",
    "at one moment": b"s,C\n5,20\n5,21\n5,22\n",
    "within one minute": b"time,C\n0:00,20\n0:00,900\n0:00,800\n",
    "a picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
    "a workbook": b"PK\x03\x04" + b"\x00" * 26 + b"[Content_Types].xml" + b"\x00" * 500,
    "a packed file called csv": b"PK\x03\x04" + b"\x00" * 26 + b"kiln.csv" + b"\x00" * 500,
}
CODES = {
    "empty": "empty",
    "only spaces": "empty",
    "one row": "one_row",
    "a header alone": "no_rows",
    "prose": "no_rows",
    "one column": "one_column",
    "no temperature": "no_temperature",
    "no numbers": "no_numbers",
    "times all over": "backwards_in_part",
    "mixed units": "mixed_units",
    "mixed units in a column": "mixed_units",
    "1e9": "impossible",
    "years": "too_long",
    "a time beyond all measure": "too_long",
    "the year 1": "no_such_year",
    "a year to come": "no_such_year",
    "one endless cell": "no_rows",
    "at one moment": "in_an_instant",
    "within one minute": "in_an_instant",
    "a picture": "binary",
    "a workbook": "workbook",
    "a packed file called csv": "archive",
}


@pytest.mark.parametrize("bad", BAD)
def test_a_bad_log_is_refused_for_what_is_wrong_with_it(bad):
    with pytest.raises(LogFileError) as refused:
        read_as_guessed(text_of(BAD[bad]))
    assert refused.value.code == CODES[bad]


def test_cells_of_nothing_but_blanks_take_no_time():
    """As a disk leaves them that was full: what looks for a zone or a unit in them tries each blank anew."""
    blank = " " * 5000 + "x"
    torn = {1800 * n: blank for n in range(1, 20)}
    text = table(
        lambda s, c: f"{moment(s):%d.%m.%Y %H:%M}{torn.get(s, '')},{c}{torn.get(s, '')}", head="time,C\n"
    )
    begun = time.process_time()
    log = read_as_guessed(text)[1]
    assert time.process_time() - begun < 1
    assert [one["code"] for one in log.marks if one["code"] == "unread"] == ["unread"]


def test_a_file_that_is_too_heavy_is_refused_before_it_is_read():
    class Heavy(bytes):
        def __len__(self):
            return 300_000_000

    with pytest.raises(LogFileError, match="too_heavy"):
        text_of(Heavy())


@settings(max_examples=25)
@given(st.binary(max_size=400) | st.text(max_size=300).map(str.encode))
def test_whatever_is_sent_is_read_or_refused(raw):
    try:
        text = text_of(raw)
        read(text, guess(text))
    except LogFileError:
        pass
