from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class InventoryConfig(AppConfig):
    name = "inventory"
    verbose_name = _("the shelf")

    def ready(self) -> None:
        from inventory.models import Bucket, Fill, Glaze, Place
        from studio.registry import register_kind

        def everything(model):
            return lambda person: model.objects.all()

        register_kind("inventory.glaze", _("glaze"), everything(Glaze), lambda obj: "")
        register_kind("inventory.place", _("place"), everything(Place), lambda obj: "")
        register_kind(
            "inventory.bucket", _("bucket"), lambda person: Bucket.objects.visible_to(person), Bucket.get_absolute_url
        )
        register_kind(
            "inventory.fill",
            _("fill"),
            lambda person: Fill.objects.visible_to(person).select_related("bucket"),
            lambda obj: obj.bucket.get_absolute_url(),
        )
