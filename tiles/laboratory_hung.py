"""What laboratory reports and trials at home hang on the place."""

from django.utils.translation import gettext_lazy as _


def hang_laboratory() -> None:
    """Called once, when the app is ready."""
    from studio.registry import (
        NavItem,
        register_demo_loader,
        register_doctor_check,
        register_kind,
        register_nav,
    )
    from tiles.demo_laboratory import load_laboratory
    from tiles.doctor_laboratory import report_files_exist
    from tiles.models import LabReport

    register_kind(
        "tiles.labreport",
        _("laboratory report"),
        lambda person: LabReport.objects.visible_to(person),
        LabReport.get_absolute_url,
    )
    register_nav(NavItem(19, _("Laboratory reports"), "tiles:report-list", where="tiles"))
    register_doctor_check("every report and trial at home has its files", report_files_exist)
    register_demo_loader(load_laboratory)
