from tiles.models.acknowledgement import Acknowledgement
from tiles.models.clay import ClayBody, Kiln
from tiles.models.combination import Combination, CombinationPart
from tiles.models.firing import Firing, Piece, TileFiring, WitnessCone
from tiles.models.in_hand import LookDraft, SetInHand, TileInHand
from tiles.models.outcome import LoosePhoto, Outcome, OutcomeFault, Photo
from tiles.models.saved_search import SavedSearch
from tiles.models.tile import Layer, NumberRun, NumberSeries, Tile, TileZone

__all__ = [
    "Acknowledgement",
    "ClayBody",
    "Combination",
    "CombinationPart",
    "Firing",
    "Kiln",
    "Layer",
    "LookDraft",
    "LoosePhoto",
    "NumberRun",
    "NumberSeries",
    "Outcome",
    "OutcomeFault",
    "Photo",
    "Piece",
    "SavedSearch",
    "SetInHand",
    "Tile",
    "TileFiring",
    "TileInHand",
    "TileZone",
    "WitnessCone",
]
