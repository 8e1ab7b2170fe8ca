"""A schedule on paper: its name and rows of rate, target and hold, in the unit that the person reads."""

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.forms.parts import AmountField, RecordForm
from studio import units
from tiles.calc.schedule import MOST_SEGMENTS, TOOK, ScheduleError, segment_of
from tiles.models import Schedule
from tiles.schedule_sentences import refusal_words

BLANK_ROWS = 3


class ScheduleForm(RecordForm):
    class Meta:
        model = Schedule
        fields = ["name", "kind", "target_cone", "remark"]
        widgets = {"remark": forms.Textarea(attrs={"rows": 2}), "kind": forms.RadioSelect}
        help_texts = {
            "name": _("What you call it at the kiln, such as: glaze to 6, slow."),
            "target_cone": _(
                "The cone that it is to bring down. What it is reckoned to reach is said beside it."
            ),
        }


class SegmentForm(forms.Form):
    """One row. A row that says nothing is no segment."""

    rate_c_per_h = AmountField(
        required=False,
        error_messages={
            "invalid": _("Write the rate as a number, or leave it empty for as fast as it goes.")
        },
    )
    to_c = AmountField(required=False, error_messages={"invalid": _("Write as a number where it goes to.")})
    hold_min = AmountField(
        required=False, error_messages={"invalid": _("Write the hold as a number of minutes.")}
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        unit = units.temperature_unit()
        self.fields["rate_c_per_h"].label = _now("Rate (%(unit)s/h)") % {"unit": unit}
        self.fields["to_c"].label = _now("To (%(unit)s)") % {"unit": unit}
        self.fields["hold_min"].label = _now("Hold (min)")

    def clean(self) -> dict[str, Any]:
        """Each row is judged by itself, so that every one that is wrong says so at once."""
        if not self.errors and not self.says_nothing:
            try:
                segment_of(self.row(), self.number)
            except ScheduleError as error:
                self.add_error(error.field, refusal_words(error))
        return self.cleaned_data

    @property
    def number(self) -> int:
        """Which row it is, from 1."""
        return int(str(self.prefix).rpartition("-")[2]) + 1

    @property
    def says_nothing(self) -> bool:
        return all(value is None for value in self.cleaned_data.values())

    def row(self) -> dict[str, float | None]:
        rate, to, hold = (self.cleaned_data.get(name) for name in TOOK)
        return {
            "rate_c_per_h": None if rate is None else _tenth(units.from_per_hour(float(rate))),
            "to_c": None if to is None else _tenth(units.from_degrees(float(to))),
            "hold_min": float(hold or 0),
        }


def _tenth(value: float) -> float:
    return round(value, 1)


def shown(row: dict[str, Any]) -> dict[str, str]:
    """A kept row as it stands in the form: to a tenth, which comes back as the same row."""
    rate, to, hold = (row.get(name) for name in TOOK)
    return {
        "rate_c_per_h": "" if rate is None else f"{round(units.per_hour(rate), 1):g}",
        "to_c": "" if to is None else f"{round(units.degrees(to), 1):g}",
        "hold_min": f"{hold:g}" if hold else "",
    }


class _Rows(forms.BaseFormSet):
    """The rows of a schedule in their order."""

    def rows(self) -> list[dict[str, float | None]]:
        return [form.row() for form in self.forms if not form.says_nothing]

    @property
    def wrong(self) -> list[SegmentForm]:
        """Those that need another look."""
        return [form for form in self.forms if form.errors]


SegmentRows = forms.formset_factory(
    SegmentForm, formset=_Rows, extra=0, max_num=MOST_SEGMENTS, absolute_max=MOST_SEGMENTS + 10
)


def empty_rows(segments: list[dict[str, Any]] | None = None) -> Any:
    """The rows before anybody has typed: those that are kept, and some blank ones."""
    kept = [shown(row) for row in segments or []]
    blank = min(1 if kept else BLANK_ROWS, MOST_SEGMENTS - len(kept))
    return SegmentRows(initial=[*kept, *({} for _row in range(blank))], prefix="segments")


def sent_rows(data: Any) -> Any:
    return SegmentRows(data, prefix="segments")


def one_more(data: Any, schedule: Schedule | None) -> tuple[ScheduleForm, Any]:
    """Form and rows as they were typed, one blank row below them; nothing is judged yet."""
    form = ScheduleForm(
        instance=schedule, initial={name: data.get(name) for name in ScheduleForm.base_fields}
    )
    if schedule:
        # The version that was read, not the one of now: else a change in between would go unnoticed.
        form.initial["version"] = data.get("version")
    count = data.get("segments-TOTAL_FORMS", "")
    typed = min(int(count), MOST_SEGMENTS) if count.isascii() and count.isdigit() and len(count) < 4 else 0
    rows = [{name: data.get(f"segments-{n}-{name}", "") for name in TOOK} for n in range(typed)]
    return form, SegmentRows(initial=[*rows, {}][:MOST_SEGMENTS], prefix="segments")
