"""`/class/<secret>/`: what a guest class may use, without log-in. It names nobody, nor does it know who looks."""

import uuid
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_http_methods

from inventory.actions import add_class_entry
from inventory.actions.classes import barred_by
from inventory.forms import ClassEntryForm
from inventory.models import ClassEntry, ClassList
from inventory.views.asking import bound
from inventory.views.spoken import spoken
from studio.errors import Refused
from studio.pages import refuse

GONE = {"closed": 410, "ended": 410, "coming": 404}


def by_private_address(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """The address is the key: it is kept out of search engines, caches and the addresses that other pages see.

    No log-in and no cookie is used, so there is nothing that a forged form could borrow; and a page without
    referrer sends the origin "null", which a CSRF check refuses.
    """

    @login_not_required
    @csrf_exempt
    @never_cache
    @wraps(view)
    def kept(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        response = view(request, *args, **kwargs)
        response["Referrer-Policy"] = "no-referrer"
        response["X-Robots-Tag"] = "noindex, nofollow"
        return response

    return kept


@by_private_address
@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest, secret: str) -> HttpResponse:
    found = ClassList.objects.filter(secret=secret).first()
    state = found.state if found else "unknown"
    if found is None or state != "open":
        gone = {"class_list": found, "state": state}
        return render(request, "inventory/class_gone.html", gone, status=GONE.get(state, 404))
    offered, barred = _sorted(found)
    form = bound(request, ClassEntryForm, offered=offered)
    if request.method == "POST" and form.is_valid():
        try:
            entry = add_class_entry(class_list=found, **form.cleaned_data)
            return redirect(f"{found.page_path}?noted={entry.pk}#noted")
        except Refused as refused:
            refuse(form, refused)
    context: dict[str, Any] = {
        "class_list": found,
        "offered": [(fill, spoken(fill)) for fill in offered],
        "barred": barred,
        "form": form,
        "noted": _noted(request, found),
    }
    return render(request, "inventory/class_page.html", context)


def _sorted(class_list: ClassList) -> tuple[list[Any], list[tuple[Any, str]]]:
    """What can be used, and what is on the list but cannot, with the reason."""
    fills: Any = class_list.fills.select_related("glaze", "bucket__place").with_standing().in_walking_order()
    offered: list[Any] = []
    barred: list[tuple[Any, str]] = []
    for fill in fills:
        why = barred_by(class_list, fill)
        if why == "gone":
            barred.append((fill, _("This bucket was emptied. Whatever is in it now is not on your list.")))
        elif why == "unfit":
            barred.append((fill, _("It is not noted as fit for children any more. Leave it.")))
        elif why == "do_not_use":
            barred.append((fill, " ".join(spoken(fill).reasons)))
        else:
            offered.append(fill)
    return offered, barred


def _noted(request: HttpRequest, class_list: ClassList) -> ClassEntry | None:
    """The entry that was just made, so that the page can say what it kept."""
    try:
        made = uuid.UUID(request.GET.get("noted", ""))
    except ValueError:
        return None
    return class_list.entries.select_related("fill__glaze", "fill__bucket").filter(pk=made).first()
