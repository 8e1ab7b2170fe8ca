"""One way to ask: a page with a form, and an action behind it."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from inventory.models import Fill
from studio.errors import Refused, VersionConflict
from studio.pages import conflict, refuse

F = TypeVar("F", bound=BaseForm)


def bound(request: HttpRequest, form_class: type[F], **kwargs: Any) -> F:
    """The form, holding what was sent."""
    return form_class(request.POST if request.method == "POST" else None, **kwargs)


def ask(
    request: HttpRequest,
    form: Any,
    act: Callable[[Any], Any],
    *,
    back: str,
    template: str = "inventory/ask.html",
    **context: Any,
) -> HttpResponse:
    """Show the form, or do `act(form)` and go to the address or record that it returns.

    What an action refuses goes back onto the form with everything typed kept. `context` needs `title` and `button`.
    """
    if request.method == "POST" and form.is_valid():
        try:
            return redirect(act(form))
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=back)
    return render(request, template, {"form": form, "back": back, **context})


def same_fill(form: Any, fill: Fill, sentence: str) -> None:
    """Refuse what was meant for a fill that has left the bucket while the page was open."""
    meant = form.cleaned_data.get("fill")
    if meant is not None and meant != fill.pk:
        raise Refused(sentence)
