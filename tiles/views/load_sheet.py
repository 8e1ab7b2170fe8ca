"""The sheet that lies beside the kiln."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.cards import stack_layers
from tiles.drawing_words import layer_words
from tiles.kiln_sentences import caution_words
from tiles.loads import pieces_in, rows_seen, shelves, stopped_for
from tiles.models import Tile
from tiles.views.firings import find


@require_safe
@needs("studio.see")
def sheet(request: PersonRequest, number: int) -> HttpResponse:
    """For paper: what stands where, black on white."""
    firing = find(number)
    rows = rows_seen(firing, request.user)
    stopped = stopped_for(firing, rows)
    context = {
        "firing": firing,
        "cautions": caution_words(firing.kiln),
        "overridden": [one for one in stopped if one.reason],
        "stopped": [one for one in stopped if not one.reason],
        "shelves": [
            (shelf, [(row, _layers_in_words(row.tile)) for row in shelf.tiles])
            for shelf in shelves(firing, rows)
        ],
        "pieces": sum(piece.count for piece in pieces_in(firing)),
        "tiles": firing.tile_firings.count(),
    }
    return render(request, "tiles/firing_sheet.html", context)


def _layers_in_words(tile: Tile) -> list[tuple[str, str]]:
    """Name and how it was put on, from the clay outwards."""
    return [
        (layer.name, layer_words(layer.kind, layer.coats, layer.method, layer.area, layer.wiped_back))
        for layer in stack_layers(tile)
    ]
