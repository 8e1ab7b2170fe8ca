from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = _("the studio")

    def ready(self) -> None:
        from studio import checks, demo, doctor, kinds  # noqa: F401 - registers the system checks
        from studio.api import authentication  # noqa: F401 - registers the OpenAPI security schemes
        from studio.registry import (
            FirstStep,
            NavItem,
            register_demo_loader,
            register_doctor_check,
            register_first_step,
            register_nav,
        )
        from studio.today import somebody_is_invited

        kinds.register()
        register_nav(
            NavItem(90, _("More"), "studio:more"),
            NavItem(1, _("Today"), "studio:home", where="mine"),
            NavItem(10, _("My account"), "studio:account", where="mine"),
            NavItem(20, _("People"), "studio:people", act="people.see", where="studio"),
            NavItem(30, _("History"), "studio:history", act="history.see_all", where="studio"),
            NavItem(40, _("The studio's settings"), "studio:settings", act="studio.settings", where="studio"),
            NavItem(35, _("Stations"), "studio:stations", act="station.set_up", where="studio"),
            NavItem(45, _("Help"), "studio:help", where="mine"),
            NavItem(50, _("For programs: the API"), "studio:api-docs", where="studio"),
        )
        register_first_step(
            FirstStep(
                90,
                _("Invite people"),
                _("members, helpers"),
                "studio:invite",
                "people.invite",
                somebody_is_invited,
            )
        )
        register_demo_loader(demo.load_people)
        register_doctor_check("the secret key is private", doctor.secret_key_is_private)
        register_doctor_check("a public address is set", doctor.public_address_is_set)
        register_doctor_check("somebody manages", doctor.somebody_manages)
