"""The published doses in words, reckoned for a bucket where its dry content is known. Hints, not advice."""

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext_lazy as _

from inventory.calc.doses import Dose, published
from inventory.calc.slurry import dry_g_per_l

NAMES = {
    "epsom": _("Epsom salts"),
    "calcium-chloride": _("calcium chloride"),
    "bentonite": _("bentonite"),
    "cmc": _("CMC gum"),
    "dispersant": _("a polymer dispersant"),
    "silicate": _("sodium silicate"),
}
WORDS = {
    "epsom": _(
        "Usually the lower figure. Dissolve it, add a little, stir, look, add more; it needs clay to work on."
    ),
    "calcium-chloride": _("Stronger than Epsom salts. Dissolve it first."),
    "bentonite": _("1 to 2 % is usual; sources differ from 0.4 to 3 %. Mix it with water before it goes in."),
    "cmc": _("For dipping; a brushing glaze takes several times as much."),
    "dispersant": _(
        "Given for casting slip: begin with four fifths of it. A glaze takes far less, by drops."
    ),
    "silicate": _("Given for casting slip. A glaze takes far less, by drops; too much thickens it again."),
}
MARKS = {"read": _("as published"), "memory": _("common practice, no source read")}


@dataclass(frozen=True)
class Hint:
    """One line of the page: the dose in percent of the dry glaze, and in grams for this bucket where that is known."""

    name: Any
    percent: str
    grams: str
    words: Any
    mark: Any
    source: str


def hints(sg: Any, volume_ml: Any) -> list[Hint]:
    """All doses; `sg` and `volume_ml` None leave the grams out."""
    known = sg is not None and volume_ml is not None and volume_ml > 0
    dry_g = dry_g_per_l(sg) * float(volume_ml) / 1000 if known else None
    return [_hint(dose, dry_g) for dose in published()]


def _hint(dose: Dose, dry_g: float | None) -> Hint:
    grams = "" if dry_g is None else _span(*dose.grams(dry_g))
    return Hint(
        NAMES[dose.key], _span(dose.low, dose.high), grams, WORDS[dose.key], MARKS[dose.mark], dose.source
    )


def _span(low: float | None, high: float) -> str:
    """'0.1 to 0.5', two figures each."""
    if low is None:
        return str(_("up to %(high)s") % {"high": _two(high)})
    return str(_("%(low)s to %(high)s") % {"low": _two(low), "high": _two(high)})


def _two(number: float) -> str:
    return f"{float(f'{number:.2g}'):g}"
