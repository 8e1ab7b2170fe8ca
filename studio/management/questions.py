"""Questions of a command line: cleaned, and asked again with a sentence until the answer can be used."""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from zoneinfo import available_timezones

from django.core.exceptions import ValidationError
from django.core.management.base import CommandError

Ask = Callable[[str, bool, str], str]


@dataclass(frozen=True)
class Question:
    """`clean` returns the answer as it is kept, or raises ValidationError with a sentence."""

    name: str
    text: str
    default: str | None = None
    choices: Sequence[str] = ()
    clean: Callable[[str], Any] = str
    hidden: bool = False

    @property
    def option(self) -> str:
        return "--password-file" if self.hidden else "--" + self.name.replace("_", "-")

    def cleaned(self, answer: str) -> Any:
        answer = answer if self.hidden else " ".join(answer.split())
        if not answer and self.default is not None:
            answer = self.default
        if self.choices and answer not in self.choices:
            raise ValidationError(f"Write one of: {', '.join(self.choices)}.")
        return self.clean(answer)

    def answer(self, given: str | None, ask: Ask | None) -> Any:
        """The answer of an option, else the one that `ask` gets; without `ask` the default, or a refusal."""
        if ask is None and given is None and self.default is None:
            raise CommandError(f"{self.option} is missing.")
        problem = ""
        while True:
            if given is None and ask is not None:
                hint = f" [{self.default}]" if self.default else ""
                answer = ask(f"{self.text}{hint}: ", self.hidden, problem)
            else:
                answer = given or ""
            try:
                return self.cleaned(answer)
            except ValidationError as error:
                problem, given = " ".join(error.messages), None
                if ask is None:
                    raise CommandError(f"{self.option}: {problem}") from error


def guessed_time_zone() -> str:
    """The machine's own time zone where it says one, else UTC."""
    candidates = [os.environ.get("TZ", "").lstrip(":")]
    timezone_file = Path("/etc/timezone")
    if timezone_file.is_file():
        candidates.append(timezone_file.read_text(encoding="utf-8").strip())
    candidates.append(os.path.realpath("/etc/localtime").partition("zoneinfo/")[2])
    known = available_timezones()
    return next((name for name in candidates if name in known), "UTC")
