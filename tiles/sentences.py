"""The wall's words for the codes of tiles/calc: one catalogue, so that page, paper and API say the same.

Every finding says what is the case, why it matters and what to do.
"""

from collections.abc import Callable
from typing import Any

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.sentences import cone_range_words, cone_words, reason_sentence
from tiles import schedule_sentences
from tiles.calc.findings import Finding
from tiles.calc.witness import TileCone, bend_word
from tiles.coat_sentences import COATS, mm_words, substance_words

# A key with a point holds the sentence for one `side` of a range.
FINDINGS = {
    **schedule_sentences.FINDINGS,
    "body_outside_cone.above": _(
        "This firing goes to %(target)s, but the clay body is made for %(range)s. "
        "Hotter than that it may bloat, slump or melt onto the shelf. Choose a cooler firing or another body."
    ),
    "body_outside_cone.below": _(
        "This firing goes to %(target)s, but the clay body matures at %(range)s. "
        "Cooler than that it stays porous and weak. Choose a hotter firing or another body."
    ),
    "kiln_too_cool": _(
        "This firing goes to %(target)s, but the kiln goes no higher than %(kiln_high)s. "
        "It may never get there, or be damaged on the way. Choose a cooler firing or another kiln."
    ),
    "unlikely_cone": _(
        "Is it really %(target)s? For such a firing %(twin)s would be the usual one: a nought in front makes "
        "a cooler cone. Check which is meant before you load."
    ),
    "glaze_outside_cone.above": _(
        "%(name)s is meant for %(range)s, and this firing goes to %(target)s. Hotter than meant it "
        "may run off or burn away. Put something under the tile to catch it, or choose another firing."
    ),
    "glaze_outside_cone.below": _(
        "%(name)s is meant for %(range)s, and this firing goes to %(target)s. Cooler than meant it "
        "may stay dry and rough. Choose a hotter firing or another glaze."
    ),
    "fill_do_not_use": _(
        "Do not use this bucket of %(name)s. %(reasons)s Take another bucket or another glaze."
    ),
    "fill_ask_first": _("Ask a technician before you use this bucket of %(name)s. %(reasons)s"),
    "underglaze_uncovered": _(
        "Nothing covers %(name)s here: %(regions)s. Left bare it may stay dry or rub off. "
        "Lay a glaze over it, unless you want it bare."
    ),
    "coat_after_a_day": _(
        "%(name)s went on %(hours)s hours after %(under)s. A coat over one that has long dried "
        "may crack, lift or crawl. Look at the tile before you load it; next time keep coats within a day."
    ),
    "cone_ranges_apart": _(
        "%(name)s is meant for %(range)s and %(under)s for %(under_range)s. No one firing suits both, "
        "so one of them will be too hot or too cool. Choose another pair, or make it a trial on purpose."
    ),
    **COATS,
}

NO_REASONS = _("Its record says why.")

REGION_WORDS = {
    "inside": _("inside"),
    "lip": _("lip"),
    "top": _("top of the outside"),
    "middle": _("middle of the outside"),
    "bottom": _("bottom of the outside"),
    "foot": _("foot"),
}

ZONE_WORDS = {"whole": _("All over"), "alone": _("On its own"), "overlap": _("Where they overlap")}

SOURCE_WORDS = {
    **schedule_sentences.SOURCES,
    "studio_record": _("the studio's own records"),
    "common_practice": _("common practice"),
    "air_limits": _("limits in air at work, OSHA 29 CFR 1910.1000 and 1910.1053, and common practice"),
    "container": _("its container"),
}

BEND_WORDS = {
    "stands": _("stands"),
    "bent": _("bent, not down"),
    "nearly_down": _("nearly down"),
    "down": _("down"),
    "": _("not read yet"),
}

BASIS_WORDS = {
    "witness_here": _("by the witness cone beside it"),
    "witness_firing": _("the coolest that the firing's witness cones show"),
    "witness_short": _("no witness cone was down: %(below)s is not proved"),
    "log": _("by the controller's log"),
    "planned": _("planned only"),
    "": _("not known"),
}


def _regions(codes: tuple[str, ...]) -> str:
    return ", ".join(str(REGION_WORDS[code]) for code in codes)


def _reasons(codes: tuple[str, ...]) -> str:
    return " ".join(reason_sentence(code) for code in codes) or str(NO_REASONS)


def _range(ends: tuple[Any, Any]) -> str:
    return cone_range_words(*ends)


IN_WORDS: dict[str, Callable[[Any], object]] = {
    **schedule_sentences.IN_WORDS,
    "target": cone_words,
    "twin": cone_words,
    "kiln_high": cone_words,
    "range": _range,
    "under_range": _range,
    "regions": _regions,
    "reasons": _reasons,
    "moved": mm_words,
    "substances": substance_words,
}


def sentence(finding: Finding) -> str:
    """The finding in plain words."""
    details = finding.details
    key = f"{finding.code}.{details['side']}" if "side" in details else finding.code
    words = {name: IN_WORDS.get(name, str)(value) for name, value in details.items()}
    return str(FINDINGS[key]) % words


def source_words(finding: Finding) -> str:
    """What a finding rests on."""
    return str(SOURCE_WORDS[finding.source])


def zone_words(kind: str) -> str:
    """A zone's kind as a heading."""
    return str(ZONE_WORDS[kind])


def bend_words(degrees: int | None) -> str:
    """A bend with what it amounts to: '75°, nearly down'."""
    said = str(BEND_WORDS[bend_word(degrees)])
    return said if degrees is None else _now("%(bend)s°, %(said)s") % {"bend": degrees, "said": said}


def basis_words(tile_cone: TileCone) -> str:
    """What a tile's cone rests on, to stand beside the cone."""
    below = cone_words(tile_cone.below) if tile_cone.below else ""
    return str(BASIS_WORDS[tile_cone.basis]) % {"below": below}


# What each visibility of a tile means, said where it is chosen and where it is shown.
VISIBILITY = {
    "mine": _("only its maker and the technicians see it; it counts in nobody else's figures"),
    "studio": _("everybody who logs in sees it, with its maker's name"),
    "open": _("visitors see it without log-in too, but no name of a person"),
}
