from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = _("the studio")

    def ready(self) -> None:
        from studio import checks  # noqa: F401 - registers the system checks
        from studio.api import authentication  # noqa: F401 - registers the OpenAPI security schemes
        from studio.models import Person
        from studio.registry import NavItem, register_kind, register_nav

        register_kind("studio.person", _("person"), lambda person: Person.objects.all(), lambda obj: "")
        register_nav(
            NavItem(90, _("More"), "studio:more"),
            NavItem(10, _("My account"), "studio:account", where="more"),
            NavItem(20, _("People"), "studio:people", act="people.see", where="more"),
            NavItem(30, _("History"), "studio:history", act="history.see_all", where="more"),
            NavItem(40, _("The studio's settings"), "studio:settings", act="studio.settings", where="more"),
            NavItem(50, _("For programs: the API"), "studio:api-docs", where="more"),
        )
