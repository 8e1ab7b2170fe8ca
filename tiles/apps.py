from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TilesConfig(AppConfig):
    name = "tiles"
    verbose_name = _("the tiles")

    def ready(self) -> None:
        from studio.registry import register_kind
        from tiles.models import ClayBody, Combination, Firing, Kiln, Tile

        def everything(model):
            return lambda person: model.objects.all()

        register_kind("tiles.tile", _("tile"), lambda person: Tile.objects.visible_to(person), Tile.get_absolute_url)
        register_kind("tiles.firing", _("firing"), everything(Firing), Firing.get_absolute_url)
        register_kind("tiles.claybody", _("clay body"), everything(ClayBody), lambda obj: "")
        register_kind("tiles.kiln", _("kiln"), everything(Kiln), lambda obj: "")
        register_kind("tiles.combination", _("combination"), everything(Combination), lambda obj: "")
