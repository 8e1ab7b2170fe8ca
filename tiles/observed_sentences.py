"""The words for what was observed of a tile: one catalogue, so that page and API say the same.

Of each observation: what is said where it is so, where it is not, and what to ask where nobody knows.
"""

from typing import Any

from django.utils.translation import gettext_lazy as _

OBSERVED: dict[str, tuple[Any, Any, Any]] = {
    "thick": (_("The glaze lies thick"), _("The glaze does not lie thick"), _("Does the glaze lie thick?")),
    "thin": (_("The glaze lies thin"), _("The glaze does not lie thin"), _("Does the glaze lie thin?")),
    "sg_high": (
        _("Its bucket was above its gravity window"),
        _("Its bucket was not above its gravity window"),
        _("Was the bucket thicker than its gravity window?"),
    ),
    "sg_low": (
        _("Its bucket was below its gravity window"),
        _("Its bucket was not below its gravity window"),
        _("Was the bucket thinner than its gravity window?"),
    ),
    "uneven": (
        _("The coats were uneven"),
        _("The coats were even"),
        _("Were the coats uneven?"),
    ),
    "quick_coats": (
        _("The next coat came before the first had dried"),
        _("The coats had time to dry"),
        _("Did the next coat come before the first had dried?"),
    ),
    "day_between": (
        _("More than a day lay between two coats"),
        _("No day lay between two coats"),
        _("Did more than a day lie between two coats?"),
    ),
    "layered": (
        _("One layer lies over another"),
        _("There is only one layer"),
        _("Does one layer lie over another?"),
    ),
    "sprayed": (_("It was sprayed"), _("It was not sprayed"), _("Was it sprayed?")),
    "dusty": (
        _("What it went onto was dusty"),
        _("What it went onto was not dusty"),
        _("Was the bisque dusty?"),
    ),
    "oily": (
        _("What it went onto had been touched by oily hands"),
        _("What it went onto was not oily"),
        _("Had oily hands touched the bisque?"),
    ),
    "damp": (
        _("What it went onto was damp"),
        _("What it went onto was dry"),
        _("Was the bisque damp when the glaze went on?"),
    ),
    "loaded_damp": (
        _("It went into the kiln damp"),
        _("It went into the kiln dry"),
        _("Was the glaze still damp when it went into the kiln?"),
    ),
    "on_fired": (
        _("It went onto a fired glaze"),
        _("It did not go onto a fired glaze"),
        _("Did it go onto a fired glaze?"),
    ),
    "on_greenware": (
        _("It went onto unfired clay"),
        _("It did not go onto unfired clay"),
        _("Did it go onto unfired clay?"),
    ),
    "cracked_raw": (
        _("The glaze had cracked or lifted before the kiln"),
        _("The raw glaze had not cracked"),
        _("Had the glaze cracked or lifted as it dried, before the kiln?"),
    ),
    "powdery": (
        _("The raw glaze rubs off as powder"),
        _("The raw glaze does not rub off"),
        _("Does the raw glaze rub off as powder?"),
    ),
    "bisque_low": (
        _("Its bisque firing was cooler than its body asks"),
        _("Its bisque firing was not too cool"),
        _("Was its bisque firing too cool?"),
    ),
    "bisque_high": (
        _("Its bisque firing was hotter than its body asks"),
        _("Its bisque firing was not too hot"),
        _("Was its bisque firing too hot?"),
    ),
    "porous": (
        _("Its body stays porous"),
        _("Its body is tight"),
        _("Does the body soak up water after the firing?"),
    ),
    "body_over": (
        _("The body was fired past its range"),
        _("The body was not fired past its range"),
        _("Was the body fired past its range?"),
    ),
    "body_under": (
        _("The body was fired below its range"),
        _("The body was not fired below its range"),
        _("Was the body fired below its range?"),
    ),
    "fired_over": (
        _("It saw more heat than was meant"),
        _("It did not see more heat than was meant"),
        _("Did it see more heat than was meant? Look at the witness cones."),
    ),
    "fired_under": (
        _("It saw less heat than was meant"),
        _("It did not see less heat than was meant"),
        _("Did it see less heat than was meant? Look at the witness cones."),
    ),
    "wants_hotter": (
        _("Its glaze is made for a hotter firing than was meant"),
        _("Its glaze is not made for a hotter firing than was meant"),
        _("Is the glaze made for a hotter cone?"),
    ),
    "wants_cooler": (
        _("Its glaze is made for a cooler firing than was meant"),
        _("Its glaze is not made for a cooler firing than was meant"),
        _("Is the glaze made for a cooler cone?"),
    ),
    "fast_climb": (
        _("The kiln climbed fast at the end"),
        _("The kiln did not climb fast at the end"),
        _("Did the kiln climb faster than 150 °C an hour at the end?"),
    ),
    "slow_climb": (
        _("The kiln climbed slowly at the end"),
        _("The kiln did not climb slowly at the end"),
        _("Did the kiln climb slower than 60 °C an hour at the end?"),
    ),
    "no_hold": (
        _("There was no hold at the top"),
        _("There was a hold at the top"),
        _("Was the kiln shut off without a hold at the top?"),
    ),
    "long_hold": (
        _("The hold at the top was long"),
        _("The hold was not long"),
        _("Was it held at the top for more than 45 minutes?"),
    ),
    "fast_cooling": (
        _("The kiln cooled fast"),
        _("The kiln did not cool fast"),
        _("Did the kiln cool fast, or was it opened hot?"),
    ),
    "slow_cooling": (
        _("The kiln cooled slowly"),
        _("The kiln did not cool slowly"),
        _("Did the kiln cool slower than 50 °C an hour?"),
    ),
    "reduction": (
        _("It was fired in reduction"),
        _("It was not fired in reduction"),
        _("Was it fired in reduction?"),
    ),
    "refired": (
        _("It was glaze-fired more than once"),
        _("It was glaze-fired once"),
        _("Was it glaze-fired more than once?"),
    ),
    "overglaze": (
        _("It went through an overglaze firing"),
        _("It went through no overglaze firing"),
        _("Did it go through an overglaze firing?"),
    ),
    "matte": (_("Its surface is matt"), _("Its surface is not matt"), _("Is the surface matt?")),
    "opaque": (_("The glaze is opaque"), _("The glaze is not opaque"), _("Is the glaze opaque?")),
    "heavy_colour": (
        _("Its glaze carries much copper, manganese or barium"),
        _("Its glaze carries little copper, manganese or barium"),
        _("Does the glaze carry 3 % or more of copper, manganese or barium?"),
    ),
    "moved": (
        _("It moved more than 5 mm"),
        _("It moved 5 mm at most"),
        _("Did the glaze move more than 5 mm?"),
    ),
    "contaminated": (
        _("Its bucket was flagged as contaminated"),
        _("Nothing had got into its bucket"),
        _("Could something have got into the bucket?"),
    ),
    "settled": (
        _("Its bucket had settled hard or dried out"),
        _("Its bucket had been stirred"),
        _("Had the bucket settled hard, or was it left unstirred?"),
    ),
    "deflocculated": (
        _("A deflocculant had been put into its bucket"),
        _("No deflocculant had been put into its bucket"),
        _("Had a deflocculant been put into the bucket?"),
    ),
    "old": (
        _("The glaze had stood for more than a year"),
        _("The glaze was mixed or opened within the year"),
        _("Had the glaze stood for more than a year?"),
    ),
    "same_glaze": (
        _("Other tiles of this glaze show it too"),
        _("Other tiles of this glaze do not show it"),
        _("Do other tiles of this glaze show it too?"),
    ),
    "same_firing": (
        _("Tiles of other glazes in this firing show it too"),
        _("Tiles of other glazes in this firing do not show it"),
        _("Do tiles of other glazes in this firing show it too?"),
    ),
    "same_body": (
        _("Other glazes on this body show it too"),
        _("Other glazes on this body do not show it"),
        _("Do other glazes on this body show it too?"),
    ),
    "volatile_near": (
        _("A copper or chrome glaze was in this firing"),
        _("No copper or chrome glaze was in this firing"),
        _("Did a copper or chrome glaze stand near it?"),
    ),
    "late": (
        _("It came only later: an earlier look did not find it"),
        _("It was there from the first look"),
        _("Did it come only days or weeks after the firing?"),
    ),
    "at_edge": (
        _("It is at the rim or an edge"),
        _("It is not at the rim or an edge"),
        _("Is it above all at rims and edges?"),
    ),
    "at_overlap": (
        _("It is where the layers overlap"),
        _("It is not where the layers overlap"),
        _("Is it above all where the layers overlap?"),
    ),
    "sharp_edges": (
        _("The edges of the crack are sharp"),
        _("Glaze has rounded the edges of the crack"),
        _("Are the edges of the crack sharp, not rounded by glaze?"),
    ),
    "fit_tension": (
        _("By its recipe the glaze shrinks more than the body"),
        _("By its recipe the glaze does not shrink more than the body"),
        _("Does the glaze shrink more than the body, by its recipe?"),
    ),
    "fit_squeezed": (
        _("By its recipe the glaze shrinks much less than the body"),
        _("By its recipe the glaze does not shrink much less than the body"),
        _("Does the glaze shrink much less than the body, by its recipe?"),
    ),
}


def observed_words(code: str, is_so: bool, detail: str = "") -> str:
    """'The glaze lies thick: 1.8 mm.'"""
    said = str(OBSERVED[code][0 if is_so else 1])
    return f"{said}: {detail}." if detail else f"{said}."


def question(code: str) -> str:
    """What to ask or look for where an observation is not known."""
    return str(OBSERVED[code][2])
