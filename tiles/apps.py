from django.apps import AppConfig
from django.urls import reverse
from django.utils.translation import gettext_lazy as _


class TilesConfig(AppConfig):
    name = "tiles"
    verbose_name = _("the tiles")

    def ready(self) -> None:
        from inventory.register import register_laboratory
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
        from tiles import demo, doctor, due, due_kiln, panels, setting_up
        from tiles.food_panels import of_fill, of_glaze
        from tiles.laboratory_hung import hang_laboratory
        from tiles.last_results import last_results
        from tiles.models import (
            CauseTable,
            ClayBody,
            Combination,
            Firing,
            Kiln,
            RemedyTrial,
            SavedSearch,
            Schedule,
            Tile,
        )
        from tiles.schedule_sentences import kept_segments_words

        def everything(model):
            return lambda person: model.objects.all()

        register_kind(
            "tiles.tile", _("tile"), lambda person: Tile.objects.visible_to(person), Tile.get_absolute_url
        )
        register_kind(
            "tiles.firing",
            _("firing"),
            everything(Firing),
            Firing.get_absolute_url,
            words={"plan": kept_segments_words},
        )
        register_kind(
            "tiles.schedule",
            _("schedule"),
            everything(Schedule),
            lambda obj: reverse("tiles:schedule", args=[obj.pk]),
            words={"segments": kept_segments_words},
        )
        register_kind("tiles.claybody", _("clay body"), everything(ClayBody), lambda obj: "")
        register_kind(
            "tiles.kiln", _("kiln"), everything(Kiln), lambda obj: reverse("tiles:kiln", args=[obj.pk])
        )
        register_kind(
            "tiles.combination",
            _("combination"),
            lambda person: Combination.objects.visible_to(person),
            lambda obj: reverse("tiles:combination", args=[obj.pk]),
        )
        register_kind(
            "tiles.savedsearch",
            _("saved search"),
            # What a search was called and asked before it was shared is its owner's alone; put away ones too.
            lambda person: SavedSearch.objects.filter(person=person.pk),
            SavedSearch.get_absolute_url,
        )
        register_kind(
            "tiles.causetable", _("table of causes"), everything(CauseTable), CauseTable.get_absolute_url
        )
        register_kind(
            "tiles.remedytrial",
            _("trial of a remedy"),
            lambda person: RemedyTrial.objects.visible_to(person),
            RemedyTrial.get_absolute_url,
        )
        register_nav(
            NavItem(20, _("Wall"), "tiles:wall"),
            NavItem(30, _("Log"), "tiles:log-start", act="tile.log", emphasised=True),
            NavItem(40, _("Firings"), "tiles:firing-list"),
            NavItem(15, _("Tiles made"), "tiles:run-list", act="tile.log", where="tiles"),
            NavItem(13, _("Looks due"), "tiles:looks-due", where="mine"),
            NavItem(12, _("My tiles"), "tiles:my-tiles", act="tile.log", where="mine"),
            NavItem(19, _("The open wall"), "tiles:open-wall", where="tiles"),
            NavItem(16, _("Clay bodies"), "tiles:body-list", where="kilns"),
            NavItem(17, _("Kilns"), "tiles:kiln-list", where="kilns"),
            NavItem(14, _("Ask"), "tiles:ask", where="tiles"),
            NavItem(21, _("Causes of faults"), "tiles:causes", where="tiles"),
            NavItem(14, _("Schedules"), "tiles:schedule-list", where="kilns"),
            NavItem(18, _("Combinations"), "tiles:combination-list", where="tiles"),
            NavItem(18, _("A planned pot and food"), "tiles:pot", where="tiles"),
        )
        register_panel("bucket", "tiles/_bucket_panel.html", panels.next_coat)
        register_panel("fill", "tiles/_food_panel.html", of_fill)
        register_panel("fill", "tiles/_fill_panel.html", panels.made_from)
        register_panel("place-list", "tiles/_place_count.html", panels.hung_here)
        register_panel("flag", "tiles/_flag_panel.html", panels.touched_by)
        register_panel("flag-own", "tiles/_flag_marks.html", panels.marks_for)
        register_panel("flag-list", "tiles/_flag_count.html", panels.touched_counts)
        register_panel("glaze", "tiles/_glaze_panel.html", panels.tried_with)
        register_panel("glaze", "tiles/_food_panel.html", of_glaze)
        register_panel("help-table", "tiles/_help_log.html", panels.for_everybody)
        register_panel("help-shapes", "tiles/_help_shapes.html", panels.shapes)
        register_panel("help-table", "tiles/_help_ask.html", panels.for_everybody)
        register_panel("help-kiln", "tiles/_help_kiln.html", panels.for_everybody)
        register_laboratory(last_results)
        register_due(due.due_at_the_wall)
        register_due(due_kiln.due_at_the_kilns)
        register_first_step(*setting_up.STEPS)
        register_demo_loader(demo.load_wall)
        hang_laboratory()
        register_doctor_check("cones are those of the evidence", doctor.cones_agree)
        register_doctor_check("logs are as their readings give", doctor.logs_agree)
        register_doctor_check("zones are those of the layers", doctor.zones_agree)
        register_doctor_check("every photo has its files", doctor.photo_files_exist)
