"""The studio's own settings."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from studio.actions.place import change_studio
from studio.errors import Refused, VersionConflict
from studio.forms import SettingsForm
from studio.models import Studio
from studio.pages import conflict, needs, refuse


@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.settings")
def studio_settings(request: HttpRequest) -> HttpResponse:
    studio = Studio.current()
    kept = {name: getattr(studio, name) for name in SettingsForm.base_fields}
    form = SettingsForm(request.POST if request.method == "POST" else None, initial=kept)
    if form.is_bound and form.is_valid():
        values = {**form.cleaned_data}
        version = values.pop("version")
        try:
            change_studio(by=request.user, values=values, version=version)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=reverse("studio:settings"))
        else:
            messages.success(request, _("Kept."))
            return redirect("studio:settings")
    return render(request, "studio/settings.html", {"form": form})
