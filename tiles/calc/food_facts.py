"""What the rules about ware and food ask (tiles/calc/food.py), and the table of what they can say."""

from dataclasses import dataclass

from inventory.calc.cones import Cone
from inventory.calc.standing import TOXIC

ON_RECORD, NOT_KNOWN, KEPT_AWAY, SAID = "on_record", "not_known", "kept_away", ""
VERDICTS = (ON_RECORD, NOT_KNOWN, KEPT_AWAY)  # mildest first; SAID has no say

# Which element counts how: glaze chemistry's usual list. An oxide is named by its element.
KEEPS_AWAY = TOXIC
LEAVES_UNKNOWN = ("Ba", "Mn", "V", "Cr", "Ni", "Co", "Cu", "Li", "Zn", "Sr")
STAIN = "stain"

SPOILED_BY = ("crazing", "pinholing", "blistering", "crawling", "underfired")
# Not in the studio's list, and worse than what is: glass in the food, open pits, cracks, a glaze that dissolves.
SPOILED_TOO = ("shivering", "spit_out", "etching", "dunting")
DOUBTFUL = (
    *("bloating", "orange_peel", "cutlery_marking", "devitrification", "jumping"),
    *("flaking", "spluttering", "other"),
)
WANTS_A_COVER = ("underglaze", "slip", "wash")
BARE_BY_CUSTOM = ("engobe", "terra_sigillata")  # only where food lies
FAVOURABLE = ("food_safe", "dinnerware_safe")
SCREENS_THAT_SPOIL = ("acid", "dishwasher", "thermal_shock")

RULES = {  # code: (verdict, what it rests on)
    "label_not_for_food": (KEPT_AWAY, "container"),
    "flag_then": (KEPT_AWAY, "studio_record"),
    "flag_now": (KEPT_AWAY, "studio_record"),
    "flag_since": (KEPT_AWAY, "studio_record"),
    "marked": (KEPT_AWAY, "studio_record"),
    "substance_keeps_away": (KEPT_AWAY, "elements"),
    "uncovered": (KEPT_AWAY, "common_practice"),
    "bare": (KEPT_AWAY, "common_practice"),
    "fault": (KEPT_AWAY, "common_practice"),
    "dry": (KEPT_AWAY, "common_practice"),
    "lab_over_alone": (KEPT_AWAY, "laboratory"),
    "lab_over": (KEPT_AWAY, "laboratory"),
    "trial_failed": (KEPT_AWAY, "screen"),
    "label_not_read": (NOT_KNOWN, "container"),
    "no_bucket": (NOT_KNOWN, "container"),
    "mixed_no_bucket": (NOT_KNOWN, "studio_record"),
    "wants_cover": (NOT_KNOWN, "common_practice"),
    "stirred_together": (NOT_KNOWN, "container"),
    "added": (NOT_KNOWN, "studio_record"),
    "substance_not_known": (NOT_KNOWN, "elements"),
    "stain": (NOT_KNOWN, "elements"),
    "cone_range_not_known": (NOT_KNOWN, "studio_record"),
    "outside_cone": (NOT_KNOWN, "studio_record"),
    "cone_not_known": (NOT_KNOWN, "studio_record"),
    "cone_only_planned": (NOT_KNOWN, "studio_record"),
    "layering_untested": (NOT_KNOWN, "container"),
    "lip_bare": (NOT_KNOWN, "common_practice"),
    "fault_doubtful": (NOT_KNOWN, "common_practice"),
    "fault_on_tiles": (NOT_KNOWN, "studio_record"),
    "dry_on_tiles": (NOT_KNOWN, "studio_record"),
    "no_layers": (NOT_KNOWN, "studio_record"),
    "not_fired": (NOT_KNOWN, "studio_record"),
    "refired": (NOT_KNOWN, "test_of_fired_piece"),
    "kiln": (NOT_KNOWN, "kiln"),
    "kiln_not_named": (NOT_KNOWN, "kiln"),
    "lab_boundary": (NOT_KNOWN, "laboratory"),
    "lab_incomplete": (NOT_KNOWN, "laboratory"),
    "lab_unverified": (NOT_KNOWN, "laboratory"),
    "lab_cannot_say": (NOT_KNOWN, "laboratory"),
    "lab_other_kind": (NOT_KNOWN, "laboratory"),
    "lab_near_over": (NOT_KNOWN, "laboratory"),
    "trial_doubtful": (NOT_KNOWN, "screen"),
    "trial_unclear": (NOT_KNOWN, "screen"),
    "labels_only": (NOT_KNOWN, "container"),
    "no_report": (NOT_KNOWN, "test_of_fired_piece"),
    "never_by_itself": (NOT_KNOWN, "test_of_fired_piece"),
    "label_quoted": (SAID, "container"),
    "label_silent": (SAID, "container"),
    "mixed_here": (SAID, "studio_record"),
    "trial_not_yet_failed": (SAID, "screen"),
    "lab_within": (ON_RECORD, "laboratory"),
}


@dataclass(frozen=True, slots=True)
class Line:
    """One reason; `params` are pairs, so that lines can be compared and hashed."""

    code: str
    params: tuple[tuple[str, object], ...] = ()

    @property
    def verdict(self) -> str:
        return RULES[self.code][0]

    @property
    def source(self) -> str:
        return RULES[self.code][1]

    @property
    def details(self) -> dict[str, object]:
        return dict(self.params)


@dataclass(frozen=True, kw_only=True, slots=True)
class FoodLayer:
    """One layer, or one glaze or bucket by itself. Wax burns out and is none.

    label: food_safe, dinnerware_safe, none, not_for_food, '' nobody read it, mixed (mixed here: there is no
    container), mixed_no_bucket, no_bucket. flags: (kind, lid code, 'now', 'then' or 'since'); substances: (element or
    'stain', percent or None, where it was read); over_alone: reports on ware of this glaze alone that were over.
    stirred_in: what was mixed into it; added: what else was put into its bucket.
    """

    name: str
    kind: str = "glaze"
    position: int = 0
    area: str = "whole"
    is_wiped_back: bool = False
    label: str = ""
    condition: str = ""
    flags: tuple[tuple[str, str, str], ...] = ()
    substances: tuple[tuple[str, float | None, str], ...] = ()
    over_alone: tuple[str, ...] = ()
    stirred_in: str = ""
    added: tuple[str, ...] = ()
    cone_low: Cone | None = None
    cone_high: Cone | None = None

    @property
    def covers(self) -> bool:
        return self.kind == "glaze" and not self.is_wiped_back


@dataclass(frozen=True, slots=True)
class Heat:
    """One firing that melted glaze: `seen` is the witness's cone, else what `basis` says; `log_cone` the computed one.

    basis: one of calc.witness.BASES, or 'chosen' of a pot that is only planned. kind: glaze or overglaze.
    """

    seen: Cone | None
    basis: str
    log_cone: Cone | None = None
    kind: str = "glaze"


@dataclass(frozen=True, slots=True)
class Report:
    """A laboratory's report as far as it counts here. verdict: calc.leach's; None where it could not be judged.

    is_milder: judged as a kind of ware that may release more than what its form names; over_by: the other standards by
    which the same figures are over.
    """

    words: str
    is_exact: bool
    verdict: str | None
    is_boundary: bool = False
    is_complete: bool = True
    is_unverified: bool = False
    is_milder: bool = False
    over_by: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Ware:
    """Everything that the rules ask. what: glaze, fill, tile, combination or pot.

    food_side: the regions (calc.zones) on which food lies, the lip aside. faults: (kind, words); marks: kinds of
    flags for which it was set aside; kilns: (name, reason);
    kilns_to_ask: those with a reason, where nobody said which kiln it is to be fired in; trials: (kind, result, words).
    """

    what: str
    layers: tuple[FoodLayer, ...] = ()
    food_side: tuple[str, ...] = ()
    has_lip: bool = False
    heats: tuple[Heat, ...] = ()
    firings: int = 0
    kilns: tuple[tuple[str, str], ...] = ()
    kilns_to_ask: tuple[str, ...] = ()
    faults: tuple[tuple[str, str], ...] = ()
    is_dry: bool = False
    marks: tuple[str, ...] = ()
    reports: tuple[Report, ...] = ()
    trials: tuple[tuple[str, str, str], ...] = ()

    @property
    def can_be_on_record(self) -> bool:
        """A test is of the fired piece: what is in a jar, or a list of glazes, has never been tested."""
        return self.what in ("tile", "pot")
