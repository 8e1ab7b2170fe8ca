from inventory.forms.buckets import BucketForm
from inventory.forms.classes import ClassEntryForm, ClassListForm
from inventory.forms.fills import EndFillForm, FillForm, StartFillForm, StockForm
from inventory.forms.flags import ClearFlagForm, FlagForm, NoteForm, WithdrawFlagForm
from inventory.forms.glazes import GlazeForm
from inventory.forms.parts import ArchiveForm
from inventory.forms.places import PlaceForm
from inventory.forms.readings import ReadingForm

__all__ = [
    "ArchiveForm",
    "BucketForm",
    "ClassEntryForm",
    "ClassListForm",
    "ClearFlagForm",
    "EndFillForm",
    "FillForm",
    "FlagForm",
    "GlazeForm",
    "NoteForm",
    "PlaceForm",
    "ReadingForm",
    "StartFillForm",
    "StockForm",
    "WithdrawFlagForm",
]
