"""What an action may answer instead of doing its work. Views and the API turn these into sentences."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _


class Refused(Exception):
    """Input that cannot be used. `problems` maps a field name ('' = the whole) to sentences."""

    def __init__(self, problems: str | Mapping[str, str | list[str]]) -> None:
        if isinstance(problems, str):
            problems = {"": problems}
        self.problems: dict[str, list[str]] = {
            field: [str(s) for s in (sentences if isinstance(sentences, list) else [sentences])]
            for field, sentences in problems.items()
        }
        super().__init__(" ".join(s for sentences in self.problems.values() for s in sentences))

    @classmethod
    def from_validation(cls, error: ValidationError) -> "Refused":
        """Model validation errors under their fields' names."""
        if hasattr(error, "error_dict"):
            return cls({("" if f == "__all__" else f): list(m) for f, m in error.message_dict.items()})
        return cls({"": list(error.messages)})


class VersionConflict(Exception):
    """Somebody else changed the record meanwhile. Carries both versions and the record as it is now."""

    def __init__(self, record: Any, yours: int) -> None:
        self.record, self.yours, self.current = record, yours, record.version
        super().__init__(
            _(
                "Somebody else changed this while you were writing (you had version %(yours)s, it is now "
                "version %(current)s). Look at what it says now, then send yours again."
            )
            % {"yours": yours, "current": self.current}
        )
