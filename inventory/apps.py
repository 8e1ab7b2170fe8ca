from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class InventoryConfig(AppConfig):
    name = "inventory"
    verbose_name = _("the shelf")

    def ready(self) -> None:
        from inventory import demo, doctor, due, due_labels, panels, setting_up
        from inventory.models import Bucket, ClassList, Fill, Glaze, Place, SgRound
        from inventory.register import PRICE, may_see_price
        from studio.registry import (
            NavItem,
            register_demo_loader,
            register_doctor_check,
            register_due,
            register_first_step,
            register_kind,
            register_nav,
            register_panel,
        )

        def everything(model):
            return lambda person: model.objects.all()

        register_kind("inventory.glaze", _("glaze"), everything(Glaze), Glaze.get_absolute_url)
        register_kind("inventory.place", _("place"), everything(Place), lambda obj: "")
        register_kind(
            "inventory.bucket",
            _("bucket"),
            lambda person: Bucket.objects.visible_to(person),
            Bucket.get_absolute_url,
        )
        register_kind(
            "inventory.fill",
            _("fill"),
            lambda person: Fill.objects.visible_to(person).select_related("bucket"),
            lambda obj: obj.bucket.get_absolute_url(),
            kept_from=lambda person, fill: () if may_see_price(person, fill) else PRICE,
        )
        register_kind(
            "inventory.classlist",
            _("class list"),
            lambda person: ClassList.objects.visible_to(person),
            ClassList.get_absolute_url,
        )
        register_kind(
            "inventory.sground",
            _("SG round"),
            everything(SgRound),
            SgRound.get_absolute_url,
        )
        register_nav(
            NavItem(10, _("Shelf"), "inventory:shelf"),
            NavItem(11, _("SG round"), "inventory:round", act="round.walk", where="buckets"),
            NavItem(12, _("Glazes"), "inventory:glaze-list", where="buckets"),
            NavItem(14, _("Places"), "inventory:place-list", where="studio"),
            NavItem(15, _("Flags"), "inventory:flag-list", where="buckets"),
            NavItem(21, _("Register"), "inventory:register", where="buckets"),
            NavItem(22, _("Labels for lids"), "inventory:labels", where="buckets"),
            NavItem(23, _("Class lists"), "inventory:class-list-list", act="class.make", where="buckets"),
        )
        register_panel("station", "inventory/_station_shelf.html", panels.shelf_of_the_studio)
        register_panel("help-table", "inventory/_help_table.html", panels.for_everybody)
        register_panel("help-shapes", "inventory/_help_lids.html", panels.three_lids)
        register_panel("help-class", "inventory/_help_class.html", panels.for_everybody)
        register_due(due.due_on_the_shelf)
        register_due(due_labels.due_labels)
        register_first_step(*setting_up.STEPS)
        register_demo_loader(demo.load_shelf)
        register_doctor_check("volumes are the sum of their entries", doctor.balances_agree)
        register_doctor_check("flags are whole", doctor.flags_agree)
        register_doctor_check("every photo of a flag has its files", doctor.flag_photos_exist)
