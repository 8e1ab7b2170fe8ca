"""A fill's standing in sentences: the two answers, each with its reasons, never folded into one."""

from dataclasses import dataclass
from typing import Any

from inventory.sentences import FOOD_SENTENCES, figures, food_words, reason_sentence, use_words


@dataclass(frozen=True)
class Spoken:
    use: str
    use_word: str
    reasons: list[str]
    notes: list[str]
    food: str
    food_word: str
    food_reasons: list[str]


def spoken(fill: Any) -> Spoken:
    """Of a fill that was read `with_standing`."""
    found = fill.standing
    params = figures(fill)
    food_reasons = [reason_sentence(code, **params) for code in found.food_reasons]
    if found.food in FOOD_SENTENCES:
        food_reasons.append(str(FOOD_SENTENCES[found.food]))
    return Spoken(
        use=found.use,
        use_word=use_words(found.use),
        reasons=[reason_sentence(code, **params) for code in found.use_reasons],
        notes=[reason_sentence(code, **params) for code in found.notes],
        food=found.food,
        food_word=food_words(found.food),
        food_reasons=food_reasons,
    )
