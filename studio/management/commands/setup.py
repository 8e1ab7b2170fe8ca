"""Set up a real studio: ask, or take everything from options."""

import getpass
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from studio.actions.founding import found_studio
from studio.env import ENV_FILE, public_url_problem, write_file
from studio.errors import Refused
from studio.management.database import migrate
from studio.management.questions import Question, guessed_time_zone
from studio.models import Person, Studio


def _password(answer: str) -> str:
    validate_password(answer)
    return answer


def _public_url(answer: str) -> str:
    answer = answer.rstrip("/")
    if answer and (problem := public_url_problem(answer)):
        raise ValidationError(problem)
    return answer


def _field(model: type, name: str) -> Any:
    """Clean an answer as the model's own field does, with its sentences."""
    return lambda answer: model._meta.get_field(name).clean(answer, None)  # type: ignore[attr-defined]


def questions() -> list[Question]:
    """What a studio has to say about itself, in the order in which it is asked."""
    languages = [code for code, _name in settings.LANGUAGES]
    return [
        Question("studio_name", "Name of the studio", clean=_field(Studio, "name")),
        Question("name", "Your name (the first manager)", clean=_field(Person, "name")),
        Question("username", "Your log-in name", clean=_field(Person, "username")),
        Question("password", "Your password (at least 10 characters)", clean=_password, hidden=True),
        Question("time_zone", "Time zone", default=guessed_time_zone(), clean=_field(Studio, "time_zone")),
        Question("language", "Language", default=languages[0], choices=languages),
        Question("temperature_unit", "Temperatures in °C or °F: c or f", default="c", choices=["c", "f"]),
        Question(
            "units",
            "Weights and volumes: metric (g, L) or us (oz, US gallons)",
            default="metric",
            choices=["metric", "us"],
        ),
        Question(
            "public_url",
            "Address at which phones reach it, printed on labels (empty: decide later)",
            default="",
            clean=_public_url,
        ),
    ]


class Command(BaseCommand):
    help = "Set up a real studio: its name, its first manager, time zone, language, units and public address."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--no-input", action="store_true", help="ask nothing; what is missing is an error"
        )
        parser.add_argument(
            "--password-file", help="file whose first line is the password; - for standard input"
        )
        for question in questions():
            if not question.hidden:
                parser.add_argument(question.option, help=question.text)

    def handle(self, *args: Any, **options: Any) -> None:
        migrate()
        self.refuse_second_run()
        given = {q.name: options.get(q.name) for q in questions()}
        given["password"] = self.password_of(options["password_file"])
        ask = None if options["no_input"] else self.ask
        answers = {q.name: q.answer(given[q.name], ask) for q in questions()}
        studio_fields = ("time_zone", "language", "temperature_unit", "units")
        try:
            studio, manager = found_studio(
                studio={"name": answers["studio_name"], **{f: answers[f] for f in studio_fields}},
                username=answers["username"],
                name=answers["name"],
                password=answers["password"],
            )
        except Refused as refused:
            raise CommandError(str(refused)) from refused
        if answers["public_url"]:
            write_file(settings.DATA_DIR / ENV_FILE, {"TILEKEEP_PUBLIC_URL": answers["public_url"]})
        self.stdout.write(f"{studio.name} is set up. Log in as {manager.username}.")
        if not answers["public_url"]:
            self.stdout.write(f"Labels need a public address: write TILEKEEP_PUBLIC_URL=... into {ENV_FILE}.")
        self.stdout.write("Start it: python manage.py serve")

    def refuse_second_run(self) -> None:
        studio = Studio.objects.first()
        if studio and studio.is_demo:
            raise CommandError(
                "This data folder holds the demo. Name another folder in TILEKEEP_DATA_DIR for the real studio."
            )
        if studio or Person.objects.exists():
            raise CommandError(
                "This studio is set up already. Its manager changes it on the page of the studio's settings."
            )

    def password_of(self, path: str | None) -> str | None:
        if path is None:
            return None
        try:
            text = sys.stdin.readline() if path == "-" else Path(path).read_text(encoding="utf-8")
        except OSError as error:
            raise CommandError(f"The password file cannot be read: {error.strerror}.") from error
        return text.splitlines()[0] if text else ""

    def ask(self, text: str, hidden: bool, problem: str) -> str:
        if problem:
            self.stderr.write(problem)
        try:
            return getpass.getpass(text) if hidden else input(text)
        except EOFError as error:
            raise CommandError("Nobody answers. Give the answers as options, with --no-input.") from error
