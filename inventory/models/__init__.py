from inventory.models.bucket import Bucket, ChildFit, Fill, Label, Level
from inventory.models.classes import ClassEntry, ClassList
from inventory.models.entries import Reading, StockEntry, Treatment
from inventory.models.flag import Flag, FlagNote, FlagPhoto
from inventory.models.glaze import Glaze, Opacity, Surface
from inventory.models.place import Place
from inventory.models.round import RoundStop, SgRound
from inventory.models.substance import GlazeSubstance

__all__ = [
    "Bucket",
    "ChildFit",
    "ClassEntry",
    "ClassList",
    "Fill",
    "Flag",
    "FlagNote",
    "FlagPhoto",
    "Glaze",
    "GlazeSubstance",
    "Label",
    "Level",
    "Opacity",
    "Place",
    "Reading",
    "RoundStop",
    "SgRound",
    "StockEntry",
    "Surface",
    "Treatment",
]
