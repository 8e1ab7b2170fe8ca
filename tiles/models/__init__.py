from tiles.models.acknowledgement import Acknowledgement
from tiles.models.cause import CauseTable, FlagMark, RemedyTrial
from tiles.models.clay import ClayBody, Kiln
from tiles.models.combination import Combination, CombinationPart
from tiles.models.firing import Firing, Piece, TileFiring, WitnessCone
from tiles.models.in_hand import LookDraft, SetInHand, TileInHand
from tiles.models.laboratory import HomeTrial, HomeTrialPhoto, LabLayer, LabReport, LabValue
from tiles.models.log import FiringEvent, FiringLog, LogDraft, LogTakenBack, PartChange
from tiles.models.outcome import LoosePhoto, Outcome, OutcomeFault, Photo
from tiles.models.saved_search import SavedSearch
from tiles.models.schedule import Schedule
from tiles.models.tile import Layer, NumberRun, NumberSeries, Tile, TileZone

__all__ = [
    "Acknowledgement",
    "CauseTable",
    "ClayBody",
    "Combination",
    "CombinationPart",
    "Firing",
    "FiringEvent",
    "FiringLog",
    "FlagMark",
    "HomeTrial",
    "HomeTrialPhoto",
    "Kiln",
    "LabLayer",
    "LabReport",
    "LabValue",
    "Layer",
    "LogDraft",
    "LogTakenBack",
    "LookDraft",
    "LoosePhoto",
    "NumberRun",
    "NumberSeries",
    "Outcome",
    "OutcomeFault",
    "PartChange",
    "Photo",
    "Piece",
    "RemedyTrial",
    "SavedSearch",
    "Schedule",
    "SetInHand",
    "Tile",
    "TileFiring",
    "TileInHand",
    "TileZone",
    "WitnessCone",
]
