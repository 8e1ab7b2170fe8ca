"""Words for what a laboratory found, for page and API. No word here says that a pot is good to eat from."""

from typing import Any

from django.utils.formats import number_format
from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from tiles.calc.leach import Judged, JudgedMetal, LeachError

STANDARDS = {
    "us-fda": _("United States (FDA, two guides)"),
    "iso-6486-2": _("ISO 6486-2"),
    "eu-84-500": _("European Union (84/500/EEC)"),
    "canada": _("Canada"),
    "japan": _("Japan"),
    "california-65": _("California (Proposition 65)"),
}
CATEGORIES = {
    "flatware": _("flatware, at most 25 mm deep"),
    "small-hollowware": _("small hollowware, less than 1.1 L"),
    "large-hollowware": _("large hollowware, 1.1 L or more"),
    "cups-and-mugs": _("cups and mugs"),
    "pitchers": _("pitchers"),
    "storage": _("storage vessels of 3 L or more"),
    "cooking-ware": _("cooking ware"),
}
METAL_WORDS = {
    "Pb": _("lead"),
    "Cd": _("cadmium"),
    "Al": _("aluminium"),
    "As": _("arsenic"),
    "B": _("boron"),
    "Ba": _("barium"),
    "Co": _("cobalt"),
    "Cr": _("chromium"),
    "Cu": _("copper"),
    "Li": _("lithium"),
    "Mn": _("manganese"),
    "Ni": _("nickel"),
    "Sb": _("antimony"),
    "V": _("vanadium"),
    "Zn": _("zinc"),
}
UNIT_WORDS = {"mg_per_l": "mg/L", "mg_per_dm2": "mg/dm²", "mg_per_kg": "mg/kg"}
BASIS_WORDS = {"mean": _("the mean of the pieces"), "each": _("each piece")}
KIND_WORDS = {
    "limit": _("limit"),
    "action level": _("action level"),
    "warning level": _("warning level"),
}
VERDICT_WORDS = {
    "over": _("over the limit"),
    "within": _("within the limit"),
    "more-pieces-needed": _("more pieces needed"),
    "cannot-say": _("cannot say"),
}
MARK_WORDS = {
    "read": _("read in its text"),
    "read-2nd": _("read where somebody reports it"),
    "memory": _("unverified"),
}
YARDSTICK_WORDS = {
    "epa-water": _("drinking water, United States"),
    "who-water": _("drinking water, World Health Organization"),
    "iso-4531": _("enamelled ware, ISO 4531"),
    "coe-metals": _("metal ware, Council of Europe"),
    "eaeu": _("porcelain and faience, Eurasian union"),
    "li-screening": _("screening level of water, United States"),
}

# Always said beside a judgement.
BESIDE = _(
    "Limits differ by country and by kind of ware. A test is of the fired pieces that were tested: same layers, lot, "
    "body, cone and form. It says nothing of another pot."
)
# Always said beside a trial at home.
SCREEN = _(
    "A trial at home is a screen only. It can show that something fails; nothing seen means “not yet failed”, and "
    "never what goes into food. For that, ask a laboratory."
)

ERRORS: dict[str, str | Promise] = {
    "unknown_standard": _("This standard is not known here. Choose one of: %(known)s."),
    "unknown_category": _("%(standard)s has no limit for this kind of ware. It has: %(known)s."),
    "unknown_key": _("“%(key)s” is not known here. Use a metal with its unit, such as lead_mg_per_l."),
    "not_a_number": _(
        "“%(text)s” is not a figure. Write it like 0.12, or <0.02 for less than can be detected."
    ),
    "two_ways": _(
        "“%(text)s” can be read as a little over one or as thousands. Write it with a point, or without a comma."
    ),
    "negative": _("“%(text)s” is below nothing. Write 0 or more, or <0.02 for less than can be detected."),
    "both_units": _(
        "Figures of %(metal)s stand in mg/L and in mg/dm². They do not convert into each other. Judge one at a time."
    ),
    "no_results": _("No piece has a figure. Give at least one, such as lead of piece 1."),
    "unit": _(
        "This kind of ware is judged in %(wanted)s, and %(metal)s is given in %(given)s. One is what a litre of acid "
        "took up, the other what an area gave off, so they do not convert without the volume and the area wetted. "
        "Ask the laboratory for %(wanted)s."
    ),
}


def figure(value: Any) -> str:
    """Up to four figures, without noughts at the end: 0.226, 3, 0.0033."""
    return number_format(f"{float(f'{value:.4g}'):.10f}".rstrip("0").rstrip(".") or "0")


def leach_error_sentence(error: LeachError) -> str:
    """The refusal in words; a list of what is known instead stands as the codes that the API takes."""
    words = {name: _said(name, value) for name, value in error.params.items()}
    sentence = str(ERRORS[error.code]) % words
    if "piece" in error.params and error.code in ("not_a_number", "negative", "two_ways", "unknown_key"):
        return _now("Piece %(piece)s: %(sentence)s") % {"piece": error.params["piece"], "sentence": sentence}
    return sentence


def _said(name: str, value: Any) -> Any:
    if isinstance(value, list):
        return ", ".join(value)
    words: dict[str, Any] = {
        "metal": METAL_WORDS,
        "standard": STANDARDS,
        "given": UNIT_WORDS,
        "wanted": UNIT_WORDS,
    }
    return words.get(name, {}).get(value, value)


def verdict_words(judged: Judged | None) -> str:
    """The verdict in a word or two, and whether nobody read the limit, or how many pieces it asks for."""
    words = str(VERDICT_WORDS[judged.verdict if judged else "cannot-say"])
    if judged and (judged.is_unverified or judged.is_rule_unverified):
        return _now("%(verdict)s, by an unverified rule") % {"verdict": words}
    return words


def verdict_sentence(judged: Judged) -> str:
    """What the figures say against the standard, in one or two sentences; never that all is well."""
    if not judged.metals:
        return _now("None of the metals that this standard limits was measured, so it says nothing.")
    # California's is no ban: a warning is due from there on.
    level = str(KIND_WORDS[judged.metals[0].limit.kind])
    if judged.verdict == "within" and not judged.is_complete:
        missing = ", ".join(str(METAL_WORDS[metal]) for metal in judged.not_measured)
        said = _now("What was measured lies within the %(level)s. Not measured, so not known: %(missing)s.")
        return said % {"level": level, "missing": missing}
    if judged.verdict == "more-pieces-needed":
        needed = judged.pieces_needed
        said = ngettext(
            "The standard wants %(n)s more piece before anything can be said.",
            "The standard wants %(n)s more pieces before anything can be said.",
            needed,
        )
        return said % {"n": needed}
    if judged.verdict == "over" and judged.metals[0].limit.kind == "warning level":
        return _now(
            "At least one metal lies over the warning level: sold in California, this ware wants a warning."
        )
    sentences = {
        "over": _("At least one metal lies over the %(level)s. Keep this ware away from food and drink."),
        "within": _("These pieces lie within the %(level)s of this standard."),
        "cannot-say": _(
            "The laboratory could not detect as little as the %(level)s, so nothing can be said."
        ),
    }
    return str(sentences[judged.verdict]) % {"level": level}


def metal_sentences(metal: JudgedMetal) -> list[str]:
    """What has to be known beside one metal's verdict."""
    said, level = [], str(KIND_WORDS[metal.limit.kind])
    mean_hides = bool(metal.above) and metal.limit.basis == "mean" and metal.verdict != "over"
    if mean_hides:
        text = _now("The mean decides, but by itself this is over: piece %(pieces)s.")
        said.append(text % {"pieces": ", ".join(map(str, metal.above))})
    if metal.unknown:
        text = _now("The limit of detection lies above the %(level)s: piece %(pieces)s.")
        said.append(text % {"level": level, "pieces": ", ".join(map(str, metal.unknown))})
    if metal.by_fifty_percent:
        said.append(
            _now(
                "One is over by no more than half, and the mean of the others is not (50 % rule, Art. 2(5))."
            )
        )
    if metal.is_boundary and not mean_hides and metal.verdict in ("within", "more-pieces-needed"):
        said.append(
            _now("So near to the %(level)s another test may well come out over it.") % {"level": level}
        )
    if metal.limit.is_unverified:
        said.append(_now("Unverified: nobody here has read this number in the standard."))
    elif metal.limit.is_rule_unverified:
        said.append(
            _now("Unverified: how many pieces, and whether each counts, was not read in the standard.")
        )
    return said
