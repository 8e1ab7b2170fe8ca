"""The shelf's words for the codes of inventory/calc: one catalogue, so that every page says the same.

A reason says what is the case, why it matters and what to do. 'Food safe' stands here only as a label quoted.
"""

from datetime import date, datetime
from decimal import Decimal
from math import ceil, floor
from typing import Any

from django.utils import timezone
from django.utils.formats import number_format
from django.utils.functional import Promise
from django.utils.timesince import timesince
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext, ngettext_lazy

from inventory.calc.cones import Cone, ConeError, celsius_at_60
from inventory.calc.forecast import RunsOut
from inventory.calc.slurry import SgError

USE_WORDS = {"use": _("Use it"), "ask": _("Ask first"), "do_not_use": _("Do not use")}

FOOD_WORDS = {
    "keep_from_food": _("Keep away from food"),
    "label_food_safe": _("Its label says “food safe”"),
    "label_dinnerware_safe": _("Its label says “dinnerware safe”"),
    "label_none": _("Its label says nothing about food"),
    "not_read": _("Nobody has read its label"),
    "mixed_here": _("Mixed here: not known"),
}

# What each answer about food rests on; where it is kept from food, the reasons say it.
FOOD_SENTENCES = {
    "label_food_safe": _(
        "So its container says, of this glaze alone, fired as the container asks. It says nothing of your pot."
    ),
    "label_dinnerware_safe": _(
        "So its container says, of this glaze alone, fired as the container asks. It says nothing of your pot."
    ),
    "label_none": _("So nothing is known. Keep it off what food or drink touches, or ask a technician."),
    "not_read": _(
        "Read what its container says about food, and have it noted here. Until then nothing is known."
    ),
    "mixed_here": _(
        "It was mixed in the studio, so no container speaks for it. Keep it off what food or drink touches, "
        "or ask a technician."
    ),
}

REASONS = {
    "contaminated": _(
        "Something else has got into it, so it may spoil pots and shelves. "
        "Put its lid on and set it apart, where nobody takes it by mistake, until a technician clears it."
    ),
    "wrong_label": _(
        "Its label is wrong, so nobody can be sure what is in it. "
        "Set it apart, where nobody takes it by mistake, until a technician clears it."
    ),
    "dried_out": _("It has dried out, so it will not go on evenly. Ask how much water it wants."),
    "settled_hard": _(
        "It has settled hard, so what pours off is not the whole glaze. Ask for help to stir it up."
    ),
    "other": _("Somebody has flagged it for a reason of its own. Read the flag first."),
    "sg_low": _(
        "Its specific gravity is below the wanted window, so it goes on thin. "
        "Once it has settled, water can be taken off the top."
    ),
    "sg_high": _(
        "Its specific gravity is above the wanted window, so it goes on thick. Ask how much water it wants."
    ),
    "empty": _("It is noted as empty. Look into the bucket and note its level, or take another."),
    "sg_never": _("Nobody has read its specific gravity. Stir it well and take a reading."),
    "sg_stale": _("Its specific gravity has not been read for a while. Stir it well and take a reading."),
    "flag_not_for_food": _("It is flagged “not for food”. Keep it off anything that food or drink touches."),
    "toxic_inside": _(
        "Something toxic is noted of the glaze: read what is in it. Whatever its label says, keep it off anything that "
        "food or drink touches."
    ),
    "label_not_for_food": _(
        "Its label says “not for food”. Keep it off anything that food or drink touches."
    ),
}

# The same with figures, where the caller knows them.
REASONS_WITH_FIGURES = {
    "sg_low": (
        ("sg", "low"),
        _(
            "Its specific gravity is %(sg)s, below the wanted %(low)s, so it goes on thin. "
            "Once it has settled, water can be taken off the top."
        ),
    ),
    "sg_high": (
        ("sg", "high"),
        _(
            "Its specific gravity is %(sg)s, above the wanted %(high)s, so it goes on thick. "
            "Ask how much water it wants."
        ),
    ),
    "sg_stale": (
        ("days",),
        ngettext_lazy(
            "Its specific gravity was last read %(days)s day ago. Stir it well and take a reading.",
            "Its specific gravity was last read %(days)s days ago. Stir it well and take a reading.",
            "days",
        ),
    ),
}

UNFIT = {
    "mixed": _("Mixed here: no container names it fit for children. It is left out."),
    "": _("Nobody has read whether its container names it fit for children. Read the container and note it."),
    "no": _("Its container warns against it. It is left out."),
    "nothing": _("Its container says nothing about children. It is left out."),
}

# Wherever glaze or rinsing water is got rid of.
DRAIN = _(
    "What may go down a drain is a matter of local rules: ask a technician where glaze and rinsing water go here."
)

CONE_ERRORS = {
    "blank": _("Write the cone, for example 6, 06 or 05½."),
    "not_text": _(
        "A bare number is not a cone, because 6 and 06 differ. Write it as text, for example “06”."
    ),
    "not_a_cone": _("“%(text)s” is not a cone. Write it like 6, 06 or 05½."),
    "no_such_cone": _("There is no cone %(text)s. Cones run from 022 up to 01, and then from 1 to 14."),
    "no_such_rank": _("%(rank)s stands for no cone. Cones run from 022 up to 01, and then from 1 to 14."),
    "reversed_range": _(
        "Cone %(low)s is hotter than cone %(high)s. Put the cooler cone first; "
        "a nought in front makes a cone cooler."
    ),
}

SG_ERRORS = {
    "not_a_number": _("Write the specific gravity as a number, for example 1.53."),
    "looks_like": _("Did you mean %(suggestion)s? Specific gravity lies between 1.00 and 2.50."),
    "out_of_range": _(
        "%(value)s cannot be a specific gravity: that lies between 1.00 and 2.50. "
        "Weigh a measured volume again."
    ),
    "too_many_decimals": _("Three decimals are enough for a specific gravity: write %(suggestion)s."),
    "not_positive": _("%(value)s cannot be a mass, a volume or a density. Write a number above 0."),
    "denser_than_particles": _(
        "A slurry of %(value)s cannot be as dense as its own powder (%(particle_density)s). "
        "Check both figures."
    ),
}


def use_words(use: str) -> str:
    """'Use it', 'Ask first' or 'Do not use'."""
    return str(USE_WORDS[use])


def food_words(food: str) -> str:
    """What is known about a fill and food, in a few words; a label is quoted as a label."""
    return str(FOOD_WORDS[food])


def figures(fill: Any) -> dict[str, object]:
    """The figures that a fill's reasons can name, of a fill read `with_standing`; what is unknown is left out."""
    known = {"sg": fill.sg, "low": fill.sg_low, "high": fill.sg_high}
    found: dict[str, object] = {name: gravity_words(v) for name, v in known.items() if v is not None}
    if fill.sg_at is not None:
        found["days"] = (fill.standing_at - fill.sg_at).days
    return found


def reason_sentence(code: str, **params: object) -> str:
    """The sentence of a reason or note of `calc.standing`, with figures if given (`FillFacts.params()`)."""
    wanted, with_figures = REASONS_WITH_FIGURES.get(code, ((), None))
    if with_figures is not None and all(name in params for name in wanted):
        return str(with_figures % {name: params[name] for name in wanted})
    return str(REASONS[code])


def flag_sentence(kind: str) -> str:
    """What an open flag of this kind says to do with the bucket; '' of one for a reason of its own, which says it."""
    if kind == "other":
        return ""
    return str(REASONS["flag_not_for_food" if kind == "not_for_food" else kind])


def gravity_words(sg: Decimal) -> str:
    """Two decimals, or three when the third was read."""
    text = f"{sg:.3f}"
    return number_format(Decimal(text[:-1] if text.endswith("0") else text))


def unfit_sentence(fill: Any) -> str:
    """Why a fill whose `child_fit` is not 'yes' is not for children, and what to do."""
    return str(UNFIT["mixed" if fill.glaze.origin == "mixed" else fill.child_fit])


def age_words(moment: datetime | date) -> str:
    """'3 weeks ago', 'today', 'just now'."""
    if not isinstance(moment, datetime) and moment >= timezone.localdate():
        return str(_("today"))
    words = timesince(moment, depth=1)
    return str(_("just now")) if words.startswith("0") else str(_("%(age)s ago") % {"age": words})


def runs_out_words(found: RunsOut | None) -> str:
    """'Runs out in about 12 days (8 to 20).', or that it cannot be said, and what would help."""
    if found is None:
        return str(
            _("When it runs out is not known: that takes three noted levels or amounts over three days.")
        )
    if found.days < 0.5:
        return str(_("By its use so far it may have run out. Look into the bucket and note its level."))
    about, low = round(found.days), floor(found.low)
    if found.high is None:
        span = _("%(low)s or more") % {"low": low}
    else:
        span = _("%(low)s to %(high)s") % {"low": low, "high": ceil(found.high)}
    return ngettext(
        "Runs out in about %(about)s day (%(span)s), if it is used as it was.",
        "Runs out in about %(about)s days (%(span)s), if it is used as it was.",
        about,
    ) % {"about": about, "span": span}


def cone_words(cone: Cone) -> str:
    """'cone 6 (1222 °C)': a cone is always shown with its end point, as far as one is published."""
    degrees = celsius_at_60(cone)
    if degrees is None:
        return str(_("cone %(cone)s") % {"cone": cone.label})
    return str(_("cone %(cone)s (%(celsius)s\u00a0°C)") % {"cone": cone.label, "celsius": degrees})


def cone_range_words(low: Cone | None, high: Cone | None) -> str:
    """A range in words, open where an end is not known."""
    if low and high and low != high:
        return str(_("%(low)s to %(high)s") % {"low": cone_words(low), "high": cone_words(high)})
    if low and high:
        return cone_words(low)
    if high:
        return str(_("up to %(high)s") % {"high": cone_words(high)})
    if low:
        return str(_("%(low)s and hotter") % {"low": cone_words(low)})
    return str(_("a cone nobody has noted"))


def cone_error_sentence(error: ConeError) -> str:
    """What is wrong with a cone as written, and what to do."""
    return _filled(CONE_ERRORS[error.code], error.params)


def sg_error_sentence(error: SgError) -> str:
    """What is wrong with a specific gravity as written, and what to do."""
    return _filled(SG_ERRORS[error.code], error.params)


def _filled(sentence: str | Promise, params: dict[str, object]) -> str:
    return str(sentence) % params
