"""The words about causes: what is wrong with a table, how likely a cause is, what trials have told."""

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from tiles.calc.cause_table import Problem
from tiles.calc.causes import Ranked, Tried

PROBLEMS = {
    "empty": _(
        "The table is empty. Keep the first line with the names of the columns, and at least one cause."
    ),
    "unreadable": _(
        "A cell of it does not end. Look for a quote that was never closed, or save the table as CSV again."
    ),
    "column_missing": _("Row %(row)s: the column “%(column)s” is missing. Put it into the first line."),
    "column_unknown": _(
        "Row %(row)s: there is no column “%(column)s”. Take it out, or look at its spelling."
    ),
    "column_twice": _("Row %(row)s: a column stands there twice. Take one out."),
    "too_many": _("There are more than %(said)s rows. Leave out causes that are never looked at."),
    "cells": _("Row %(row)s has more cells than there are columns. Put words with commas into quotes."),
    "twice": _(
        "Row %(row)s, column “%(column)s”: “%(said)s” stands there already for this fault. Keep one of them."
    ),
    "fault": _(
        "Row %(row)s, column “%(column)s”: there is no fault “%(said)s”. Take its code from the standard table."
    ),
    "code": _(
        "Row %(row)s, column “%(column)s”: “%(said)s” is no code. Write small letters, digits and _, a letter first."
    ),
    "needed": _("Row %(row)s, column “%(column)s”: it is empty. Write a few words."),
    "long": _("Row %(row)s, column “%(column)s”: more than %(said)s letters. Say it shorter."),
    "prior": _(
        "Row %(row)s, column “%(column)s”: “%(said)s” is no number above 0 and up to 20. Write such as 2 or 0.5."
    ),
    "observation": _(
        "Row %(row)s, column “%(column)s”: there is no observation “%(said)s”. The list stands below the table."
    ),
    "piece": _(
        "Row %(row)s, column “%(column)s”: “%(said)s” is not understood. Write such as: thick +2; thin -1"
    ),
    "weight": _("Row %(row)s, column “%(column)s”: the weight in “%(said)s” lies outside -4 to 4, or is 0."),
    "piece_twice": _("Row %(row)s, column “%(column)s”: “%(said)s” stands there twice. Keep one of them."),
    "mark": _("Row %(row)s, column “%(column)s”: write read, memory or own, not “%(said)s”."),
    "source": _("Row %(row)s, column “%(column)s”: name what was read, or mark the row memory or own."),
}

MARKS = {
    "read": _("as published"),
    "memory": _("common practice, no source read"),
    "own": _("the studio's own experience"),
}


# Shares of the odds from which on each word is said.
LIKELY, POSSIBLE, UNLIKELY = 0.45, 0.15, 0.05

# What a fault can do to whoever handles the piece, said beside its causes whatever the table says.
CAUTIONS = {
    "crazing": _("Keep a crazed piece away from food: its cracks take up what gets into them."),
    "shivering": _(
        "Splinters of glaze are sharp. Wear goggles to look at it closely, and keep it away from food."
    ),
    "blistering": _(
        "Broken blisters cut. Do not feel for them with bare skin, and keep the piece away from food."
    ),
    "running": _("Glaze that ran is sharp as glass. Wear goggles and gloves to take it off a shelf."),
    "spluttering": _("What fell onto the shelf is sharp as glass. Wear goggles and gloves to take it off."),
    "spit_out": _("Splinters of glaze are sharp. Keep the piece away from food."),
    "dunting": _(
        "A cracked piece can come apart in the hand, above all when it is heated or filled. Do neither, and mind "
        "its edges."
    ),
    "bloating": _("Clay that bloats gives off gas that harms. Lead the kiln's air outdoors."),
    "etching": _(
        "What a glaze loses to acid goes into food. Keep such pieces away from it; only a laboratory can say how much."
    ),
    "flaking": _(
        "Loose raw glaze is dust that harms the lungs. Wipe it up wet; do not blow or sweep it off."
    ),
    "jumping": _("Copper and chrome fumes are harmful. Lead the kiln's air outdoors, and stay out of it."),
}


def problem_words(problem: Problem) -> str:
    """What is wrong with a table, where, and what to do."""
    return str(PROBLEMS[problem.code]) % {"row": problem.row, "column": problem.column, "said": problem.said}


def share_words(ranked: Ranked, place: int) -> str:
    """How likely a cause is in words alone: priors and weights were judged, and a figure would look counted."""
    if place == 0 and ranked.share >= LIKELY:
        return _now("likely")
    if ranked.share >= POSSIBLE:
        return _now("possible")
    return _now("less likely") if ranked.share >= UNLIKELY else _now("unlikely")


def tried_words(tried: Tried) -> str:
    """What trials in this studio say; '' where there was none."""
    count = tried.helped + tried.did_not
    if not count:
        return ""
    said = ngettext(
        "Of one trial here %(helped)s helped.",
        "Of %(count)s trials here %(helped)s helped.",
        count,
    )
    return said % {"count": count, "helped": tried.helped}


def source_words(source: str, mark: str) -> str:
    """What a row of the table rests on: 'as published: ...', or that nothing was read."""
    return f"{MARKS[mark]}: {source}" if source else str(MARKS[mark])
