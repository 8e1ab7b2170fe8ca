"""The sentences of tiles/calc/findings_coats: what is the case, why it matters, what to do."""

from decimal import Decimal

from django.utils.formats import number_format
from django.utils.translation import gettext_lazy as _

from inventory.models import GlazeSubstance

COATS = {
    "runny_near_foot.measured": _(
        "%(name)s has moved %(moved)s down a tile of this studio, and here it lies near the foot. It may reach the "
        "shelf. Leave the foot bare, and put a catcher or stilts under the piece."
    ),
    "runny_near_foot.expected": _(
        "%(name)s is noted to move about %(moved)s, and here it lies near the foot. It may reach the shelf. "
        "Leave the foot bare, and put a catcher or stilts under the piece."
    ),
    "runny_on_runny": _(
        "%(name)s lies on %(under)s, and both of them move a good way alone. Together they may run off. "
        "Keep the overlap high and thin, and put a catcher under the piece."
    ),
    "glaze_on_foot": _(
        "%(name)s lies on the foot. What stands on glaze melts fast to the shelf. "
        "Wipe the foot bare before you load it, or fire it on stilts."
    ),
    "thick_on_foot": _(
        "%(name)s lies thick on the foot. Thick colour sinters, and may hold on to the shelf. "
        "Wipe it thin, or stand the piece on stilts."
    ),
    "stirred_in": _(
        "%(other)s was stirred into %(name)s. That is another glaze now, which nobody has tried: it may run, blister "
        "or change colour, and no label of either speaks of it. Keep it to tiles, and note how much went in."
    ),
    "ground_oily": _(
        "Oily hands touched what %(name)s went onto. Glaze crawls from grease. "
        "Wash the place with water and let it dry, or bisque the piece again, before you go on."
    ),
    "ground_dusty": _(
        "%(name)s went onto dust. Glaze crawls where dust keeps it off the clay. "
        "Wipe the piece with a damp sponge first."
    ),
    "ground_damp": _(
        "%(name)s went onto damp clay, which draws in less glaze: the coat turns out thin and dries slowly. "
        "Let the piece dry, best overnight, or count on another coat."
    ),
    "coat_on_undried": _(
        "%(name)s went onto %(under)s while that was still damp. The coat under it may lift or run together with it. "
        "Wait until the wet shine has gone before the next one."
    ),
    "coat_soon_after": _(
        "%(name)s went on %(minutes)s minutes after %(under)s. A coat wants some minutes to lose its wet shine. "
        "Look whether it lifts or bubbles, and leave more time between coats."
    ),
    "on_fired_glaze": _(
        "%(name)s goes onto a fired glaze, which draws in no water: it dries slowly and slides. "
        "Warm the piece, or roughen the surface, wet and with goggles on, and let each coat dry."
    ),
    "not_stirred": _(
        "Nobody has noted that this bucket of %(name)s was stirred in the %(days)s days before. What settles first is "
        "not what stays on top. Stir to the bottom, and note it."
    ),
    "few_coats": _(
        "%(name)s is brushed on in %(coats)s of the usual three coats. Few coats come out thin and streaky. "
        "Three even ones are usual, each across the one before; go by its advice if there is any."
    ),
    "uneven_coats": _(
        "The coats of %(name)s are uneven. Thick places may run or crawl, thin ones stay dry. "
        "Rub them smooth with a damp finger, which raises no dust, or wash it off and begin again."
    ),
    "stiff_brush": _(
        "%(name)s is brushed on with “%(tool)s”. Stiff hair drags the coat below and leaves furrows. "
        "Take a soft brush that holds much glaze."
    ),
    "hazard_in_spray": _(
        "%(name)s is sprayed and holds %(substances)s. Its mist is not to be breathed. "
        "Spray only under extraction, with a fitted respirator and gloves."
    ),
    "hazard_on_skin": _(
        "%(name)s holds %(substances)s. Wear gloves, and wash your hands before you eat or drink."
    ),
    "spray_mist": _(
        "%(name)s is sprayed. The mist of any glaze holds fine silica, which scars the lungs. "
        "Spray only under extraction, with a fitted respirator; a simple dust mask is not one."
    ),
    "container_warns": _("The container of %(name)s says: “%(statement)s” Read it before you spray."),
}


def mm_words(moved: Decimal) -> str:
    """'6.5 mm'."""
    return f"{number_format(moved.normalize(), use_l10n=True)} mm"


def substance_words(codes: tuple[str, ...]) -> str:
    """'cobalt, manganese'."""
    return ", ".join(str(GlazeSubstance.Substance(code).label) for code in codes)
