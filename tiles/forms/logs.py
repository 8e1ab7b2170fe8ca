"""Sending a log, saying how it is to be read, taking it back, and noting what happened while the kiln was hot."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from studio.pages import VersionedForm
from tiles.calc.log_guess import Guess
from tiles.forms.fields import Moment
from tiles.models import FiringEvent

TIME_KINDS = [
    ("moment", _("date and clock")),
    ("clock", _("clock")),
    ("unix", _("seconds since 1970")),
    ("h_m_s", _("elapsed, h:mm or h:mm:ss")),
    ("m_s", _("elapsed, mm:ss")),
    ("days", _("days")),
    ("hours", _("hours")),
    ("minutes", _("minutes")),
    ("seconds", _("seconds")),
    ("milliseconds", _("thousandths of a second")),
]
DELIMITERS = [
    ("comma", _("comma")),
    ("semicolon", _("semicolon")),
    ("tab", _("tab")),
    ("space", _("spaces")),
    ("pipe", _("upright stroke, |")),
]
MOST_IN_A_NAME = 40


class LogFileForm(forms.Form):
    file = forms.FileField(
        label=_("The controller's log"),
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": ".csv,.tsv,.txt,.log,text/*"}),
        help_text=_("CSV or text, up to 25 MB. Nothing is kept before you have seen how it is read."),
    )


class Column(forms.TypedChoiceField):
    """One column of the file; the empty choice is none."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(coerce=int, empty_value=None, **kwargs)


class LogGuessForm(forms.Form):
    """How a file is read: every guess can be told otherwise."""

    time = Column(label=_("The time is in"))
    time_kind = forms.ChoiceField(label=_("It is counted as"), choices=TIME_KINDS)
    day = Column(label=_("The date beside a clock is in"), required=False)
    days_first = forms.TypedChoiceField(
        label=_("3/4 is"),
        choices=[("True", _("3 April")), ("False", _("4 March"))],
        coerce=lambda said: str(said) == "True",
    )
    temperature = Column(label=_("The measured temperature is in"))
    unit = forms.ChoiceField(
        label=_("It is in"), choices=[("c", _("°C")), ("f", _("°F")), ("k", _("kelvin"))]
    )
    target = Column(label=_("The target is in"), required=False)
    begins_at = Moment(label=_("The first reading was taken"), required=False)
    delimiter = forms.ChoiceField(label=_("Columns are parted by"), choices=DELIMITERS)
    decimal_comma = forms.TypedChoiceField(
        label=_("Decimals are written"),
        choices=[("False", _("with a point, 20.5")), ("True", _("with a comma, 20,5"))],
        coerce=lambda said: str(said) == "True",
    )
    skip = forms.IntegerField(
        label=_("Lines before the first reading"),
        min_value=0,
        max_value=100_000,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 5, "autocomplete": "off"}),
    )
    resets = forms.ChoiceField(
        label=_("Where the time starts anew"),
        choices=[
            ("", _("not said yet")),
            ("join", _("join the parts on")),
            ("longest", _("take the longest part")),
        ],
        required=False,
    )
    # What is seldom wrong stands folded away.
    SELDOM = ("target", "days_first", "delimiter", "decimal_comma", "skip")
    # These change no figure that is shown, so they need no second look.
    SEEN_ANYWAY = ("begins_at", "resets", "target")

    def __init__(self, *args: Any, how: Guess, first_row: list[str], resets: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        columns = [(i, column_name(how, first_row, i)) for i in range(how.columns)]
        for name in ("time", "temperature"):
            self.fields[name].choices = columns
        for name in ("day", "target"):
            self.fields[name].choices = [("", _now("no column")), *columns]
        if not resets and not how.resets:
            del self.fields["resets"]

    def values(self) -> dict[str, Any]:
        """What `change_draft` takes; a moment that was left as it stands keeps its seconds."""
        kept = {**self.cleaned_data}
        if "begins_at" not in self.changed_data:
            kept.pop("begins_at", None)
        return kept

    def usual(self) -> list[forms.BoundField]:
        return [field for field in self if field.name not in self.SELDOM]

    def seldom(self) -> list[forms.BoundField]:
        return [self[name] for name in self.SELDOM]

    @property
    def reads_otherwise(self) -> bool:
        """Whether the file is read otherwise than it was shown."""
        return bool(set(self.changed_data) - set(self.SEEN_ANYWAY))


def column_name(how: Guess, first_row: list[str], index: int) -> str:
    """'2: temp_c (20.5)'."""
    name = how.header[index] if index < len(how.header) else ""
    cell = first_row[index].strip() if index < len(first_row) else ""
    said = f"{name} ({cell})" if name and cell else name or cell
    return f"{index + 1}: {said[:MOST_IN_A_NAME]}"


class LogBackForm(VersionedForm):
    reason = forms.CharField(
        label=_("Why"),
        max_length=200,
        help_text=_("Such as: the log of another firing. Kept in the history."),
    )


class EventForm(forms.Form):
    words = forms.CharField(
        label=_("What"),
        max_length=FiringEvent._meta.get_field("words").max_length,
        help_text=_("Such as: vent closed."),
    )
    at = Moment(label=_("When, if not now"), required=False)
