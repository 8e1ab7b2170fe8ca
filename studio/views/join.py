"""One-time links: joining the studio, or a new password."""

from django.contrib import messages
from django.contrib.auth import login
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from studio.actions.invitations import UnknownLink, accept_invitation, open_invitation
from studio.errors import Refused
from studio.forms import JoinForm, ResetForm
from studio.pages import refuse


@login_not_required
@never_cache
@sensitive_post_parameters("password", "again")
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, secret: str) -> HttpResponse:
    """The form of a link that is still good; else the sentence that says what became of it."""
    try:
        invitation = open_invitation(secret)
    except Refused as refused:
        return _no_use(request, refused)
    form_class = JoinForm if invitation.person is None else ResetForm
    form = form_class(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            person = accept_invitation(secret=secret, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            login(request, person, backend="django.contrib.auth.backends.ModelBackend")
            messages.success(request, _("Welcome, %(name)s.") % {"name": person.name})
            return redirect("studio:home")
        try:
            open_invitation(secret)
        except Refused as refused:
            # Another browser was faster with the same link.
            return _no_use(request, refused)
    return render(request, "studio/join.html", {"form": form, "invitation": invitation})


def _no_use(request: HttpRequest, refused: Refused) -> HttpResponse:
    code = 404 if isinstance(refused, UnknownLink) else 410
    return render(request, "studio/link_gone.html", {"sentence": str(refused)}, status=code)
