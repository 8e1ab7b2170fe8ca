"""One way to ask: a page with a form, and an action behind it."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from inventory.models import Fill
from studio.errors import Refused, VersionConflict
from studio.models import Person
from studio.pages import conflict, refuse


class MemberRequest(HttpRequest):
    """For the type checker: a request that has passed `needs`, so that somebody is logged in."""

    user: Person


F = TypeVar("F", bound=BaseForm)


def bound(request: HttpRequest, form_class: type[F], **kwargs: Any) -> F:
    """The form, holding what was sent."""
    if request.method == "POST":
        return form_class(request.POST, request.FILES, **kwargs)
    return form_class(**kwargs)


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
    if form.errors and hasattr(form, "choose_again"):
        form.choose_again()
    return render(request, template, {"form": form, "back": back, **context})


def same_fill(form: Any, fill: Fill, sentence: str = "") -> None:
    """Refuse what was meant for a fill that has left the bucket while the page was open."""
    meant = form.cleaned_data.get("fill")
    if meant is not None and meant != fill.pk:
        raise Refused(
            sentence or _("Something else is in this bucket by now. Look at its page, then note it again.")
        )
