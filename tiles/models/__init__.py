from tiles.models.clay import ClayBody, Kiln
from tiles.models.combination import Combination, CombinationPart
from tiles.models.firing import Firing, TileFiring, WitnessCone
from tiles.models.outcome import Outcome, OutcomeFault, Photo
from tiles.models.tile import Layer, NumberRun, NumberSeries, Tile, TileInHand, TileZone

__all__ = [
    "ClayBody",
    "Combination",
    "CombinationPart",
    "Firing",
    "Kiln",
    "Layer",
    "NumberRun",
    "NumberSeries",
    "Outcome",
    "OutcomeFault",
    "Photo",
    "Tile",
    "TileFiring",
    "TileInHand",
    "TileZone",
    "WitnessCone",
]
