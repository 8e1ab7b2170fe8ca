from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = _("the studio")

    def ready(self) -> None:
        from studio import checks  # noqa: F401 - registers the system checks
        from studio.api import authentication  # noqa: F401 - registers the OpenAPI security schemes
        from studio.models import Person
        from studio.registry import register_kind

        register_kind("studio.person", _("person"), lambda person: Person.objects.all(), lambda obj: "")
