"""Cautions for whoever handles a raw glaze, in words. They speak of powder, slurry and fume, never of the fired pot."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.calc.hazards import SILICA, Hazard, hazards
from inventory.models import GlazeSubstance

CAUTIONS = {
    "toxic": _(
        "Toxic: gloves, and a fitted respirator for its powder and spray. Spray only under extraction."
    ),
    "dust": _(
        "Toxic as dust and as fume: a fitted respirator for its powder and spray, gloves for the slurry."
    ),
    "lower": _("A lower hazard; do not breathe its dust or spray, and wash your hands."),
    "unknown": _(
        "Nobody knows what is in it: handle it as if it were toxic until somebody has read an analysis."
    ),
    "swallowed": _("Poisonous if swallowed: keep food, cups and mouths away."),
    "skin": _("May make the skin allergic: wear gloves."),
    "fumes": _("Its fumes leave the kiln: ventilate the firing."),
    "pregnant": _("Not to be handled while pregnant or nursing."),
    "silica": _(
        "Dry glaze and clay hold fine silica, which scars the lungs: clean wet, never sweep or sand dry, and wear a "
        "fitted respirator when you mix powders or spray. A simple dust mask is not one."
    ),
}
BASES = {"twa": _("over 8 hours"), "ceiling": _("at no moment more")}
MARKS = {"read": "", "read-2nd": _("read second-hand"), "memory": _("unverified")}


@dataclass(frozen=True)
class HazardNote:
    """One substance: what it is, what to do, the limit in air with its source, '' where none was read."""

    name: str
    cautions: tuple[str, ...]
    limit: str
    mark: str
    source: str
    is_grave: bool

    @property
    def line(self) -> str:
        """'cobalt: Toxic as dust ...' for paper and table."""
        return f"{self.name}: {' '.join(self.cautions)}"


def hazard_notes(substances: Iterable[GlazeSubstance]) -> list[HazardNote]:
    """One note for each substance (once, however often it was read), the gravest first."""
    names = {row.substance: str(row.get_substance_display()) for row in substances}
    notes = [_note(hazards()[code], name) for code, name in names.items() if code in hazards()]
    return sorted(notes, key=lambda note: (not note.is_grave, note.name))


def silica_note() -> HazardNote:
    """What holds for every raw glaze."""
    return _note(hazards()[SILICA], _now("silica dust"))


def _note(hazard: Hazard, name: str) -> HazardNote:
    cautions = tuple(str(CAUTIONS[code]) for code in (hazard.group, *hazard.also))
    return HazardNote(name, cautions, _limit(hazard), str(MARKS[hazard.mark]), hazard.source, hazard.is_grave)


def _limit(hazard: Hazard) -> str:
    if hazard.limit_mg_per_m3 is None:
        return ""
    return _now("%(limit)s mg/m³ in the air, %(basis)s, as %(of)s") % {
        "limit": f"{hazard.limit_mg_per_m3:g}",
        "basis": BASES[hazard.basis],
        "of": hazard.limit_of,
    }
