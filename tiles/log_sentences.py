"""What is said of a log: why a file cannot be read and what to do, and what was odd in the readings."""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from studio import units
from tiles.calc.log_marks import Mark
from tiles.calc.log_text import LogFileError

FILE = {
    "empty": _("This file is empty. Save the log on the controller once more, and send that."),
    "too_heavy": _(
        "This file is larger than %(megabytes)s MB. Send only this firing, or a reading less often."
    ),
    "workbook": _("This is a workbook of a spreadsheet. Save its sheet as CSV there, and send that file."),
    "archive": _("This is a packed file. Unpack it, and send the log that lies in it."),
    "binary": _(
        "This is no text, so it cannot be read as a log. Send the log that the controller writes as CSV or text."
    ),
    "no_rows": _(
        "No row of this file holds a time and a temperature. Send a table with a reading in each row."
    ),
    "one_column": _("Each row holds one number only. Send a table with the time beside the temperature."),
    "one_row": _(
        "There is only one reading in it. A log needs two at least: was it cut off when it was saved?"
    ),
    "no_time": _("No column of it looks like the time. Send a table with the time in a column of its own."),
    "no_temperature": _(
        "No column of it looks like the temperature. Send a table with the temperature in numbers."
    ),
    "no_numbers": _(
        "There is no number in the temperature's column. Choose another column, or look at the thermocouple."
    ),
    "unreadable": _(
        "In %(unread)s of %(rows)s rows the time cannot be read. Choose another column for it, or how it is counted."
    ),
    "impossible": _(
        "Most of the readings are outside -50 to 1500 °C; the hottest is %(hottest)s °C. Choose another column or unit."
    ),
    "mixed_units": _(
        "Some of its rows are in °C and others in °F. Set the controller to one of them, or send each part alone."
    ),
    "backwards_in_part": _(
        "The time jumps back %(times)s times. Sort the rows by their time, or choose another column for the time."
    ),
    "too_long": _(
        "By this the log runs over %(days)s days; %(most)s are the most. Is the time counted in something else?"
    ),
    "too_many": _("There are more than %(most)s rows in it. Send only this firing, or a reading less often."),
    "no_such_year": _(
        "By this its first reading is of a year in which nobody fired it. Choose another column for the time,"
        " or how it is counted."
    ),
    "in_an_instant": _("All its readings are of one moment. Choose another column for the time."),
}
MARKS = {
    "unread": _("%(rows)s rows hold no time and were left out."),
    "newest_first": _("The newest reading came first; the rows were turned round."),
    "gap": _("Nothing was written for %(minutes)s minutes, from %(from)s to %(to)s."),
    "silent": _("The instrument gave no temperature from %(from)s to %(to)s."),
    "silent_once": _("The instrument gave no temperature at %(from)s."),
    "open_circuit_once": _(
        "At %(from)s it gave what no kiln has, as from an open circuit. That is not counted."
    ),
    "open_circuit": _(
        "From %(from)s to %(to)s it gave what no kiln has, as from an open circuit. That is not counted."
    ),
    "spike": _("A spike to %(celsius)s at %(from)s stands alone. It is not counted."),
    "dropout_back": _(
        "From %(from)s to %(to)s it fell from %(celsius)s to room temperature and came back: the thermocouple, not the"
        " kiln. That is not counted."
    ),
    "dropout": _(
        "At %(from)s it fell from %(celsius)s to room temperature at once and stayed there: look at the thermocouple."
        " That is not counted, and the kiln may be hot."
    ),
    "unit_jump": _(
        "From %(from)s to %(to)s the figures are as if in °F where the others are °C. That is not counted."
        " Read the log again if the unit was changed."
    ),
    "stuck": _(
        "It said %(celsius)s without any change for %(minutes)s minutes from %(from)s: is the instrument stuck?"
    ),
    "reset": _("The time starts anew at %(from)s; what came after was joined on."),
    "reset_cut": _(
        "The time starts anew; of %(parts)s parts the longest was taken, %(left_out)s rows were left out."
    ),
}


def file_words(error: LogFileError) -> str:
    """Why a file cannot be read, and what to do."""
    params = {
        name: _plain(value) if isinstance(value, float) else value for name, value in error.params.items()
    }
    return str(FILE[error.code]) % params


def _plain(value: float) -> str:
    """
    >>> _plain(2232.5), _plain(1e9)
    ('2232.5', 'over a million')
    """
    return _now("over a million") if value >= 1e6 else f"{value:.6g}"


def mark_words(one: Mark, begins_at: datetime | None = None) -> str:
    """What was odd, with the moment if the log tells it, else with the time since its start."""
    code, params = one["code"], dict(one["params"])
    if code == "dropout" and params.get("back"):
        code = "dropout_back"
    if code == "reset" and "parts" in params:
        code = "reset_cut"
    if "celsius" in params:
        params["celsius"] = units.temperature(params["celsius"])
    if f"{code}_once" in MARKS and one["from"] // 60 == one["to"] // 60:
        code = f"{code}_once"
    params |= {end: moment_words(one[end], begins_at) for end in ("from", "to")}
    if begins_at is None and "%(to)s" in str(MARKS[code]):
        params["from"] = clock_words(one["from"])
    said = str(MARKS[code]) % params
    if more := params.get("more"):
        said += " " + _now("And %(more)s more like it.") % {"more": more}
    return said


def moment_words(second: int, begins_at: datetime | None) -> str:
    """
    >>> moment_words(3720, None)
    '1:02 after its start'
    """
    if begins_at is None:
        return _now("%(clock)s after its start") % {"clock": clock_words(second)}
    return date_format(timezone.localtime(begins_at + timedelta(seconds=second)), "j F, H:i")


def clock_words(second: int) -> str:
    return f"{second // 3600}:{second % 3600 // 60:02d}"


def marks_in_words(marks: list[Mark], begins_at: datetime | None) -> list[dict[str, Any]]:
    """Each mark with its sentence, as pages and the API show them."""
    return [{**one, "sentence": mark_words(one, begins_at)} for one in marks]
