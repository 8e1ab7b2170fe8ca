"""What every page view shares: the role at the door, refused forms, conflicting versions."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from studio.errors import Refused, VersionConflict
from studio.roles import require


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
    """409: somebody else was faster. Shows what was typed beside what is stored, and where to go on."""
    stored = {name: getattr(error.record, name, "") for name in form.fields if name != "version"}
    rows = [
        {"label": form[name].label, "yours": form[name].value(), "stored": value}
        for name, value in stored.items()
        if name in form.fields
    ]
    return render(request, "studio/conflict.html", {"error": error, "rows": rows, "back": back}, status=409)
