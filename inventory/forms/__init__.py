from inventory.forms.buckets import BucketForm
from inventory.forms.classes import ClassEntryForm, ClassListForm
from inventory.forms.fills import EndFillForm, FillForm, StartFillForm
from inventory.forms.flags import (
    ClearFlagForm,
    FlagForm,
    FlagPhotoForm,
    NoteForm,
    ReachForm,
    WithdrawFlagForm,
)
from inventory.forms.glazes import GlazeForm
from inventory.forms.life import (
    PourForm,
    ReckonForm,
    ReviveForm,
    TopUpForm,
    TreatmentForm,
    WashOutForm,
)
from inventory.forms.parts import ArchiveForm
from inventory.forms.places import PlaceForm
from inventory.forms.readings import ReadingForm
from inventory.forms.rounds import CupForm, PassForm, StopForm
from inventory.forms.stock import StockForm

__all__ = [
    "ArchiveForm",
    "BucketForm",
    "ClassEntryForm",
    "ClassListForm",
    "ClearFlagForm",
    "CupForm",
    "EndFillForm",
    "FillForm",
    "FlagForm",
    "FlagPhotoForm",
    "GlazeForm",
    "NoteForm",
    "PassForm",
    "PlaceForm",
    "PourForm",
    "ReachForm",
    "ReadingForm",
    "ReckonForm",
    "ReviveForm",
    "StartFillForm",
    "StockForm",
    "StopForm",
    "TopUpForm",
    "TreatmentForm",
    "WashOutForm",
    "WithdrawFlagForm",
]
