"""May this fill be used, and what is known about it and food: two answers that are never folded into one."""

from dataclasses import dataclass
from decimal import Decimal

USE_ORDER = ("use", "ask", "do_not_use")  # mildest first: max(..., key=USE_ORDER.index) is the gravest

# Strongest first; a fill's reasons keep this order.
DO_NOT_USE = ("contaminated", "wrong_label")
ASK_FIRST = ("dried_out", "settled_hard", "other", "sg_low", "sg_high", "empty")
NOTES = ("sg_never", "sg_stale")
# What keeps a glaze from food by being in it, whatever a label says: glaze chemistry's usual list (common practice).
TOXIC = ("Pb", "Cd", "As", "Sb", "Se", "U")
FOOD_REASONS = ("flag_not_for_food", "label_not_for_food", "toxic_inside")

FOOD_BY_LABEL = {
    "food_safe": "label_food_safe",
    "dinnerware_safe": "label_dinnerware_safe",
    "none": "label_none",
    "": "not_read",
}
FOOD = ("keep_from_food", "mixed_here", *FOOD_BY_LABEL.values())


@dataclass(frozen=True, kw_only=True, slots=True)
class FillFacts:
    """What the rule looks at. The first six are true while a flag of that kind is open; `toxic_inside` while a toxic
    element (TOXIC) is noted of the glaze.

    SG and window without unit, age in days (None with no reading; a reading always has its time), level
    'full' .. 'empty' or '' unknown, origin 'bought' or 'mixed', label as printed on a bought container:
    'food_safe', 'dinnerware_safe', 'not_for_food', 'none', or '' when nobody has read it.
    """

    contaminated: bool
    wrong_label: bool
    dried_out: bool
    settled_hard: bool
    other: bool
    not_for_food_flag: bool
    sg: Decimal | None
    sg_age_days: float | None
    sg_low: Decimal | None
    sg_high: Decimal | None
    stale_after_days: int
    level: str
    origin: str
    label: str
    toxic_inside: bool = False

    def params(self) -> dict[str, object]:
        """The known figures that a reason's sentence may want to name."""
        days = None if self.sg_age_days is None else int(self.sg_age_days)
        figures = {"sg": self.sg, "low": self.sg_low, "high": self.sg_high, "days": days}
        return {name: value for name, value in figures.items() if value is not None}


@dataclass(frozen=True, slots=True)
class Standing:
    """The two answers, each with the codes of its reasons, strongest first."""

    use: str
    use_reasons: tuple[str, ...]
    notes: tuple[str, ...]
    food: str
    food_reasons: tuple[str, ...]


def standing(facts: FillFacts) -> Standing:
    """Weigh a fill: the gravest reason decides its use, and every reason that applies is listed.

    A window's ends are inside it. An old or missing SG reading is a note and forbids nothing. What is mixed
    in the studio has no label to go by, so its label counts only when it speaks against food.
    Rule: the studio's own decision; raises KeyError for a label that is not in the list.

    >>> fresh = FillFacts(contaminated=False, wrong_label=True, dried_out=False, settled_hard=False,
    ...     other=False, not_for_food_flag=False, sg=Decimal("1.40"), sg_age_days=2, sg_low=Decimal("1.45"),
    ...     sg_high=None, stale_after_days=30, level="half", origin="bought", label="none")
    >>> standing(fresh)
    Standing(use='do_not_use', use_reasons=('wrong_label', 'sg_low'), notes=(), food='label_none', \
food_reasons=())
    """
    reasons = _use_reasons(facts)
    if any(code in DO_NOT_USE for code in reasons):
        use = "do_not_use"
    else:
        use = "ask" if reasons else "use"
    food, food_reasons = _food(facts)
    return Standing(use, reasons, _notes(facts), food, food_reasons)


def _use_reasons(facts: FillFacts) -> tuple[str, ...]:
    applies = {
        "contaminated": facts.contaminated,
        "wrong_label": facts.wrong_label,
        "dried_out": facts.dried_out,
        "settled_hard": facts.settled_hard,
        "other": facts.other,
        "sg_low": facts.sg is not None and facts.sg_low is not None and facts.sg < facts.sg_low,
        "sg_high": facts.sg is not None and facts.sg_high is not None and facts.sg > facts.sg_high,
        "empty": facts.level == "empty",
    }
    return tuple(code for code in DO_NOT_USE + ASK_FIRST if applies[code])


def _notes(facts: FillFacts) -> tuple[str, ...]:
    if facts.sg is None:
        return ("sg_never",)
    if facts.sg_age_days is not None and facts.sg_age_days > facts.stale_after_days:
        return ("sg_stale",)
    return ()


def _food(facts: FillFacts) -> tuple[str, tuple[str, ...]]:
    applies = (facts.not_for_food_flag, facts.label == "not_for_food", facts.toxic_inside)
    against = tuple(code for code, true in zip(FOOD_REASONS, applies, strict=True) if true)
    if against:
        return "keep_from_food", against
    return ("mixed_here" if facts.origin == "mixed" else FOOD_BY_LABEL[facts.label]), ()
