from inventory.models.bucket import Bucket, Fill, Label, Level
from inventory.models.entries import Reading, StockEntry
from inventory.models.flag import Flag, FlagNote
from inventory.models.glaze import Glaze, Opacity, Surface
from inventory.models.place import Place

__all__ = [
    "Bucket",
    "Fill",
    "Flag",
    "FlagNote",
    "Glaze",
    "Label",
    "Level",
    "Opacity",
    "Place",
    "Reading",
    "StockEntry",
    "Surface",
]
