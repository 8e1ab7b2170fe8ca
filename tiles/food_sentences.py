"""The food-contact record in words: its verdict, a sentence for each reason, what that rests on, and what is always
said beside it. No word of these is a promise; what a container prints is quoted.
"""

from typing import Any

from django.utils.text import capfirst
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.models import Flag, Glaze, GlazeSubstance, Label
from inventory.sentences import cone_range_words, cone_words
from tiles.calc.food_facts import Line
from tiles.laboratory_sentences import STANDARDS
from tiles.models import OutcomeFault
from tiles.sentences import REGION_WORDS

VERDICTS = {
    "kept_away": _("Keep it away from food and drink."),
    "not_known": _("Not known."),
    "on_record": _("On record."),
}

LINES = {
    "label_not_for_food": _("A container of it, or of what was stirred into it, says “not for food”."),
    "flag_then": _("Bucket %(bucket)s was flagged “%(kind)s” for the time when this came out of it."),
    "flag_now": _("Bucket %(bucket)s is flagged “%(kind)s”."),
    "flag_since": _(
        "Bucket %(bucket)s was flagged “%(kind)s” after this came out of it. Until somebody has looked into it, "
        "nobody knows when it began."
    ),
    "marked": _("It was set aside because a bucket was flagged “%(kind)s”."),
    "substance_keeps_away": _("There is %(element)s in it%(amount)s, as read %(read)s."),
    "substance_not_known": _(
        "There is %(element)s in it%(amount)s, as read %(read)s. How much of it this glaze lets go into food nobody "
        "has measured, and no amount is known below which it does not matter."
    ),
    "stain": _(
        "There is a stain in it of which no analysis is known%(amount)s, as read %(read)s. It may hold cadmium: ask "
        "its maker for the analysis."
    ),
    "uncovered": _(
        "It is %(kind)s and no glaze covers all of it. Left bare it is porous and may rub off into food."
    ),
    "bare": _("Nothing that covers lies on %(regions)s: bare clay takes up food and cannot be cleaned."),
    "lip_bare": _("Nothing is noted on the lip, where one drinks."),
    "fault": _("%(fault)s was seen%(words)s. Such a place holds food, or lets go of what is in the glaze."),
    "fault_doubtful": _("%(fault)s was seen%(words)s. What that means for food nobody knows."),
    "fault_on_tiles": _("%(fault)s was seen on tiles with these layers%(words)s. Look for it on every pot."),
    "dry_on_tiles": _("Tiles with these layers came out with a dry surface. Look for it on every pot."),
    "dry": _("Its surface came out dry: it was not wholly melted, and cannot be cleaned."),
    "lab_over_alone": _("A laboratory found more than the limit in ware of this glaze alone: %(report)s."),
    "lab_over": _("A laboratory found more than the limit: %(report)s."),
    "trial_failed": _("It failed a trial at home: %(words)s."),
    "trial_doubtful": _("It failed a trial at home: %(words)s. The glaze may be too soft for use."),
    "trial_unclear": _("Nobody could say how it came out of a trial at home: %(words)s."),
    "label_not_read": _(
        "Nobody has read what its container says about food. Read it, and note it with the bucket."
    ),
    "no_bucket": _("No bucket is noted, so no label is known."),
    "wants_cover": _("It is %(kind)s: wherever no glaze covers it, keep it away from food."),
    "stirred_together": _("%(other)s was stirred into it, and no label speaks of the two together."),
    "added": _(
        "%(material)s was added to its bucket: no label speaks of that, and no report of the glaze as it came."
    ),
    "cone_range_not_known": _("Nobody has noted to which cones it is fired."),
    "outside_cone": _(
        "It was made for %(range)s and saw %(cone)s: its label and its tests do not speak of that."
    ),
    "outside_cone.chosen": _(
        "It is made for %(range)s and would see %(cone)s: its label and its tests do not speak of that."
    ),
    "cone_not_known": _("Which cone it sees is not known."),
    "cone_only_planned": _(
        "Which cone it saw is only known from the plan: no witness cone and no log tells it."
    ),
    "layering_untested": _(
        "One layer lies over another, and no laboratory has tested these together. A label speaks of one glaze, used "
        "as its maker directs."
    ),
    "no_layers": _("No layer is noted, so nothing is known of what is on it."),
    "not_fired": _("No glaze firing is noted."),
    "refired": _(
        "It went through %(times)s firings with glaze on it. Every firing changes what a glaze lets go."
    ),
    "refired.planned": _(
        "It goes onto a fired glaze, which is then fired anew. Every firing changes what a glaze lets go."
    ),
    "kiln.lead_or_cadmium": _(
        "Lead or cadmium is known or suspected in the kiln %(name)s. Both leave its walls and settle on what is fired "
        "later."
    ),
    "kiln.lustre": _("Lustre has been fired in the kiln %(name)s, which leaves metals in it."),
    "kiln.lead_glaze": _(
        "A glaze that holds lead or cadmium has been fired in the kiln %(name)s. Both leave the glaze and settle on "
        "what is fired later."
    ),
    "kiln.overglaze": _(
        "An overglaze or lustre firing is on record of the kiln %(name)s. Lustre leaves metals in a kiln."
    ),
    "kiln_not_named": _(
        "Which kiln it goes into is not said, and not every kiln here will do: of %(kilns)s it is known or suspected "
        "that lead, cadmium, lustre or salt was in it. Choose the kiln."
    ),
    "kiln.salt": _("Salt or soda has been fired in the kiln %(name)s, which changes every glaze."),
    "lab_boundary": _(
        "A laboratory's result is too near the limit, of too few pieces, or one piece by itself is over: %(report)s."
    ),
    "lab_incomplete": _(
        "Lead and cadmium were not both measured and held against a limit of this standard: %(report)s."
    ),
    "lab_unverified": _(
        "A laboratory found less than the limit, but the limit itself, or how many pieces it asks for, is unverified "
        "here: %(report)s. Look it up in the standard."
    ),
    "lab_cannot_say": _("A laboratory's figures do not say whether they lie within the limit: %(report)s."),
    "lab_other_kind": _(
        "Its form is named as one for which less is allowed than for the kind of ware that the report was judged as: "
        "%(report)s. Correct whichever is wrong."
    ),
    "lab_near_over": _("A laboratory found more than the limit in ware that is near to this: %(report)s."),
    "labels_only": _(
        "Labels only: they say what their makers found, and no laboratory report that counts here is noted."
    ),
    "no_report": _(
        "No laboratory report is noted of ware with these layers and lots, on this body, at this cone and in this form."
    ),
    "never_by_itself.glaze": _(
        "A test is of a fired piece. A glaze by itself is never on record, only ware is."
    ),
    "never_by_itself.fill": _(
        "A test is of a fired piece. A bucket by itself is never on record, only ware is."
    ),
    "never_by_itself.combination": _(
        "A test is of a fired piece. A combination is never on record, only ware of one body, cone and form is."
    ),
    "label_quoted": _("Its container says %(label)s%(condition)s, of this glaze alone."),
    "label_silent": _("Its container says nothing about food."),
    "mixed_no_bucket": _(
        "It was mixed here and no bucket is noted, so nobody can tell what was wrong with that bucket."
    ),
    "mixed_here": _("It was mixed here, so no container speaks for it."),
    "trial_not_yet_failed": _("It has not yet failed a trial at home: %(words)s. That measures nothing."),
    "lab_within": _("A laboratory found no more than the limit in ware of this kind: %(report)s."),
    "lab_within.elsewhere": _(
        "A laboratory found no more than the limit in ware of this kind: %(report)s. The same figures are over by "
        "%(over_by)s."
    ),
}

SOURCES = {
    "container": _("what is printed on the container, as somebody read it"),
    "studio_record": _("the studio's own record"),
    "elements": _(
        "J. Hesselberth, Glaze Stability (1998, 2008), for barium, chromium, cobalt, copper, lithium and nickel; "
        "release of lead and cadmium is limited by law; the rest is common practice"
    ),
    "common_practice": _("common practice"),
    "laboratory": _("the laboratory's report"),
    "screen": _("a trial at home, which only screens"),
    "kiln": _(
        "the kiln's cautions and its firings; FDA guidance of November 2010 (75 FR 71133) on old kilns"
    ),
    "test_of_fired_piece": _("the tests are of fired pieces: 84/500/EEC, Annex I; ASTM C738"),
}

BESIDE = (
    (
        _("The limits differ from country to country, and from one kind of ware to another."),
        _("FDA CPG 545.400 and 545.450; 84/500/EEC; ISO 6486-2"),
    ),
    (
        _(
            "A test is of the fired piece: of its body, glazes, decoration and firing. Not of a recipe or a jar."
        ),
        _("ASTM C738; 84/500/EEC, Annex I"),
    ),
    (
        _(
            "Trials at home with acid or in the dishwasher are screens only. Lead and barium leave no colour, and a "
            "pass means “not yet failed”."
        ),
        _("M. Katz, NCECA Journal 2016; the last is common practice"),
    ),
    (_("Whoever needs to know asks a laboratory."), _("common practice")),
)

ORNAMENTAL = (
    _(
        "If it looks as if one could eat from it, mark it before it leaves the studio. In the United States that is: a "
        "sticker where the buyer sees it, with one of the set phrases that begin with “Not for Food Use”, in letters "
        "of 3.2 mm or more, and the same words fired or moulded into its base (3.2 mm, or the largest that fit and "
        "never below 1.6 mm). A hole bored through the surface that food would touch does instead. “Decorative” alone "
        "is not enough. Elsewhere the local law decides."
    ),
    _("21 CFR 109.16"),
)


def food_sentence(line: Line) -> str:
    """The sentence of a reason; one of a layer begins with which one."""
    said = line.details
    part = said.get("reason") or said.get("what") or said.get("how") or ("over_by" in said and "elsewhere")
    key = f"{line.code}.{part}"
    sentence = str(LINES[key if key in LINES else line.code])
    name = said.get("name") if "kiln" not in line.code else None
    if not name:
        return sentence % _words(said)
    who = _now("Layer %(n)s, %(name)s") % said if said.get("n") else str(name)
    # Before the names are put in: one that a sentence begins with keeps its capital.
    return f"{who}: {(sentence[:1].lower() + sentence[1:]) % _words(said)}"


def food_source(line: Line) -> str:
    return str(SOURCES[line.source])


def element_words(element: str) -> str:
    return str(GlazeSubstance.Substance(element).label)


def _words(said: dict[str, Any]) -> dict[str, object]:
    found: dict[str, object] = dict(said)
    kind = said.get("kind")
    if kind in Glaze.Kind.values:
        found["kind"] = Glaze.Kind(kind).label
    elif kind in Flag.Kind.values and "words" not in said:
        found["kind"] = Flag.Kind(kind).label
    if kind in OutcomeFault.Kind.values:
        found["fault"] = capfirst(OutcomeFault.Kind(kind).label)
    if "element" in said:
        percent = said["percent"]
        found["element"] = element_words(said["element"])
        found["amount"] = "" if percent is None else f", {percent:g}\u00a0%"
        found["read"] = GlazeSubstance.Read(said["read"]).label
    if "label" in said:
        found["label"] = Label(said["label"]).label
        found["condition"] = f" ({said['condition']})" if said["condition"] else ""
    if "over_by" in said:
        found["over_by"] = "; ".join(str(STANDARDS[code]) for code in said["over_by"])
    if "kilns" in said:
        found["kilns"] = ", ".join(said["kilns"])
    if "regions" in said:
        found["regions"] = ", ".join(str(REGION_WORDS[region]) for region in said["regions"])
    if "cone" in said:
        found |= {"cone": cone_words(said["cone"]), "range": cone_range_words(said["low"], said["high"])}
    if "words" in said:
        found["words"] = f" ({said['words']})" if said["words"] and "fault" in found else said["words"]
    return found
