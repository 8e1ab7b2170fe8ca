"""What every page view shares: the role at the door, refused forms, conflicting versions."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from studio.errors import Refused, VersionConflict
from studio.models import Person
from studio.roles import require


class PersonRequest(HttpRequest):
    """A request behind `needs`: somebody is logged in."""

    user: Person


def needs(act: str) -> Callable:
    """Refuse (403, with the sentence of the role table) whoever may not do `act`."""

    def wrap(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
        @wraps(view)
        def checked(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            require(request.user, act)
            return view(request, *args, **kwargs)

        checked.act = act  # type: ignore[attr-defined]
        return checked

    return wrap


def refuse(form: forms.BaseForm, refused: Refused) -> None:
    """Put an action's sentences on the form, under their fields where the form has them."""
    for field, sentences in refused.problems.items():
        for sentence in sentences:
            form.add_error(field if field in form.fields else None, sentence)


class VersionedForm(forms.Form):
    """A form that carries the version of the record that it changes."""

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)


def conflict(
    request: HttpRequest, error: VersionConflict, form: forms.BaseForm, *, back: str
) -> HttpResponse:
    """409: somebody else was faster. Shows what was typed beside what is stored; both ways on keep the typing."""
    asked = [name for name in form.fields if name != "version" and hasattr(error.record, name)]
    rows: list[dict[str, Any]] = [
        {
            "label": form[name].label,
            "yours": _in_words(form.fields[name], form[name].value()),
            "stored": _in_words(
                form.fields[name], form.fields[name].prepare_value(_stored(error.record, name))
            ),
        }
        for name in asked
    ]
    for row in rows:
        row["differs"] = row["yours"] != row["stored"]
    typed = [
        (name, value)
        for name, values in request.POST.lists()
        if name not in ("csrfmiddlewaretoken", "version")
        for value in values
    ]
    context = {"error": error, "rows": rows, "typed": typed, "back": back}
    return render(request, "studio/conflict.html", context, status=409)


def _stored(record: Any, name: str) -> Any:
    value = getattr(record, name)
    return list(value.all()) if hasattr(value, "all") else value


def _in_words(field: forms.Field, value: Any) -> str:
    """A typed or stored value as a form would show it: the words of a choice, yes or no, else the text."""
    if isinstance(field, forms.BooleanField):
        return _("yes") if value else _("no")
    if isinstance(value, list | tuple):
        return ", ".join(_in_words(field, v) for v in value)
    choices = {str(key): str(label) for key, label in getattr(field, "choices", [])}
    text = "" if value is None else str(value)
    return choices.get(text, text)
