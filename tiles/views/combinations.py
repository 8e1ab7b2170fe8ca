"""Which glazes lie over which: the list, and everything that is known of one stack."""

from collections import Counter
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _lazy
from django.views.decorators.http import require_http_methods, require_safe

from inventory.models import Fill, Glaze
from inventory.sentences import cone_range_words, food_words, use_words
from inventory.views.listing import listed
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, conflict, needs, refuse
from studio.roles import may
from tiles import actions
from tiles.cards import card
from tiles.drawings import StackDrawing, StackLayer, TileCard, stack
from tiles.filters import CombinationFilter
from tiles.food import record_of_combination
from tiles.food_panels import pot_address
from tiles.forms.combination import RemarkForm
from tiles.forms.pot import GLAZE
from tiles.models import Combination, Outcome, Tile, TileZone
from tiles.queries import HANGING
from tiles.queries_marks import set_aside_of
from tiles.rails import body_and_cone, by_body_and_cone
from tiles.soundness import Soundness, damage_of, soundness
from tiles.views.common import page_or_way_back

HUNG = 120
RULE = _lazy(
    "Sound: no look at this part of the tile since its last glaze firing notes a fault or damage, and the latest "
    "verdict is not “not again”. Tiles that nobody has looked at since do not count, nor does a firing that was "
    "stopped early. The range is where the true share lies with a chance of about 80 in 100 (Wilson's interval)."
)


@require_safe
@needs("studio.see")
def listing(request: PersonRequest) -> HttpResponse:
    seen = Combination.objects.visible_to(request.user).with_counts(request.user).tried()
    context = listed(request, CombinationFilter, seen.prefetch_related("parts__glaze"))
    return render(request, "tiles/combination_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.see")
def page(request: PersonRequest, pk: Any) -> HttpResponse:
    seen = Combination.objects.visible_to(request.user).prefetch_related("parts__glaze")
    combination = get_object_or_404(seen, pk=pk)
    initial = {"version": combination.version, "remark": combination.remark}
    form = RemarkForm(request.POST if request.method == "POST" else None, initial=initial)
    if request.method == "POST" and form.is_valid():
        try:
            actions.change_combination(
                by=request.user,
                obj=combination,
                values={"remark": form.cleaned_data["remark"].strip()},
                version=form.cleaned_data["version"],
            )
            messages.success(request, _("The remark is kept."))
            return redirect("tiles:combination", pk=pk)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=request.path)
    return render(request, "tiles/combination.html", {**_known(request, combination), "form": form})


def _known(request: PersonRequest, combination: Combination) -> dict[str, Any]:
    """Stack, tiles by body and cone, what was seen on them, and the buckets as they stand now."""
    seen = Tile.objects.visible_to(request.user)
    zones = TileZone.objects.filter(combination=combination)
    tiles = seen.filter(pk__in=zones.values("tile")).for_the_wall()
    hung, previous_url, next_url = page_or_way_back(request, tiles, size=HUNG, ordering=HANGING)
    sound = soundness(combination, request.user)
    of_it = Outcome.objects.filter(combination=combination, tile__in=seen)
    looks = list(of_it.select_related("tile").prefetch_related("faults"))
    glazes = [part.glaze for part in combination.parts.all()]
    fills: Any = Fill.objects.visible_to(request.user).in_use().filter(glaze__in=glazes)
    fills = (
        fills.select_related("glaze", "bucket__place").with_standing().order_by("glaze__name", "bucket__code")
    )
    return {
        "combination": combination,
        "stack": drawn(glazes),
        "rails": rails_with_counts(hung, sound),
        "sound": sound.in_all,
        "rule": RULE,
        "previous_url": previous_url,
        "next_url": next_url,
        "looks": len(looks),
        "seen": tallies(looks),
        "damage": damage_of(combination, request.user),
        "set_aside": set_aside_of(combination, request.user),
        "food": record_of_combination(combination, request.user),
        "pot_url": pot_address(*(f"{GLAZE}{glaze.pk}" for glaze in glazes)),
        "fills": [(fill, use_words(fill.use), food_words(fill.food)) for fill in fills],
        "may_remark": may(request.user, "combination.remark"),
    }


def rails_with_counts(hung: list[Tile], sound: Soundness) -> list[tuple[Any, str]]:
    """Each rail with how often it was sound on that body at that cone: of all tiles, also those on another page."""
    said = {}
    for tile in hung:
        group = sound.of(tile)
        said[body_and_cone(tile)] = group.sentence if group else ""
    return [(rail, said[rail.name]) for rail in by_body_and_cone(hung, lambda tile: _hung(tile, sound))]


def _hung(tile: Tile, sound: Soundness) -> TileCard:
    """Its facts are the part of it that carries the combination, and how that part was when it was last seen."""
    tried = sound.tried[tile.pk]
    seen = {
        True: _("sound"),
        False: _("not sound"),
        None: _("this part not looked at yet") if tile.cone_basis else str(tile.get_state_display()),
    }
    parts = dict.fromkeys(str(TileZone.Kind(kind).label) for kind in tried.zones)
    return replace(card(tile), facts=(", ".join(parts), seen[tried.is_sound]))


def drawn(glazes: list[Glaze]) -> StackDrawing:
    """The stack in the order of its glazes. How each was put on differs from tile to tile and is not said here."""
    drawing = stack([StackLayer(g.name, g.kind, coats=1, colour=g.colour or None) for g in glazes])
    words = [
        _("%(kind)s, for %(cones)s")
        % {"kind": g.get_kind_display(), "cones": cone_range_words(g.cone_low, g.cone_high)}
        for g in glazes
    ]
    layers = tuple(replace(shape, words=words[shape.number - 1]) for shape in drawing.layers)
    names = ", ".join(glaze.name for glaze in glazes)
    desc = _("From the clay outwards: %(names)s.") % {"names": names}
    return replace(drawing, layers=layers, desc=desc, clay_words=_("the clay"))


def tallies(looks: list[Outcome]) -> list[tuple[str, list[tuple[str, int]]]]:
    """How often each surface, verdict and fault was seen, the most frequent first."""
    named = {
        _("Surface"): Counter(str(o.get_surface_display()) for o in looks if o.surface),
        _("Verdict"): Counter(str(o.get_verdict_display()) for o in looks if o.verdict),
        _("Faults"): Counter(
            str(kind) for o in looks for kind in {f.get_kind_display() for f in o.faults.all()}
        ),
    }
    return [(name, counter.most_common()) for name, counter in named.items()]
