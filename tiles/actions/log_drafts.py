"""A file of readings on its way into a firing's log: kept on the server until somebody has said how to read it."""

import zlib
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.logs import AHEAD, HAS_A_LOG, keep_log
from tiles.calc.log_file import FiredWhen, LogRead, read
from tiles.calc.log_guess import Guess, guess, told_otherwise
from tiles.calc.log_text import MAX_MEGABYTES, LogFileError, text_of
from tiles.calc.readings import pack
from tiles.log_sentences import file_words
from tiles.logs import log_of
from tiles.models import Firing, FiringLog, LogDraft

KEPT_FOR = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class DraftRead:
    """A draft as it is read now: the text, how, and what it came to or why it did not."""

    text: str
    how: Guess
    log: LogRead | None
    problem: str
    begins_at: datetime | None


def file_text(file: Any) -> str:
    """The text of a sent file. One that is too heavy is refused by its size, and never read into memory."""
    if (file.size or 0) > MAX_MEGABYTES * 1_000_000:
        raise Refused({"file": file_words(LogFileError("too_heavy", megabytes=MAX_MEGABYTES))})
    file.seek(0)
    try:
        return text_of(file.read(MAX_MEGABYTES * 1_000_000 + 1))
    except LogFileError as error:
        raise Refused({"file": file_words(error)}) from error


def may_have_a_log(firing: Firing) -> None:
    """Refused where a file could not be kept anyway."""
    if firing.state not in HAS_A_LOG:
        raise Refused(
            _("%(firing)s is only planned. Say first that it is loaded or firing.") % {"firing": firing}
        )
    if log_of(firing) is not None:
        raise Refused(_("This firing has a log already. Take that back first; nothing of it is thrown away."))


@transaction.atomic
def begin_draft(*, by: Person, firing: Firing, file: Any) -> LogDraft:
    """Keep a file with the likeliest way to read it, in place of an earlier draft. Drafts of yesterday go."""
    require(by, "firing.log")
    may_have_a_log(firing)
    text = file_text(file)
    try:
        how = guess(text, anyhow=True)
    except LogFileError as error:
        raise Refused({"file": file_words(error)}) from error
    LogDraft.objects.filter(created_at__lt=timezone.now() - KEPT_FOR).delete()
    values = {
        "file_name": (getattr(file, "name", "") or "")[:200],
        "packed": zlib.compress(text.encode(), 1),
        "guess": how.plain(),
        "created_at": timezone.now(),
    }
    draft, _made = LogDraft.objects.update_or_create(firing=firing, person=by, defaults=values)
    return draft


def draft_of(person: Person, firing: Firing) -> LogDraft | None:
    """Theirs, unless it is older than a day: such a one is as good as gone, and goes when the next file comes."""
    since = timezone.now() - KEPT_FOR
    return LogDraft.objects.filter(firing=firing, person=person, created_at__gte=since).first()


@transaction.atomic
def change_draft(*, by: Person, draft: LogDraft, values: dict[str, Any]) -> LogDraft:
    """How the file is to be read, told otherwise; nothing is stored as a log. `begins_at` may be told too."""
    require(by, "firing.log")
    text = draft_text(draft)
    told = draft.guess.get("begins_at")
    if "begins_at" in values:
        moment = values["begins_at"]
        told = moment.isoformat() if moment else None
        values = {name: value for name, value in values.items() if name != "begins_at"}
    how = told_otherwise(text, Guess.of(_told(draft)), **values)
    draft.guess = {**how.plain(), "begins_at": told}
    draft.save(update_fields=["guess"])
    return draft


def _told(draft: LogDraft) -> dict[str, Any]:
    return {name: value for name, value in draft.guess.items() if name != "begins_at"}


def draft_text(draft: LogDraft) -> str:
    return zlib.decompress(bytes(draft.packed)).decode()


def read_draft(draft: LogDraft) -> DraftRead:
    """The draft as its guess reads it."""
    text, how = draft_text(draft), Guess.of(_told(draft))
    told = draft.guess.get("begins_at")
    begins_at = datetime.fromisoformat(told) if told else None
    try:
        log = read(text, how, timezone.get_current_timezone(), _fired_when(draft.firing))
    except LogFileError as error:
        return DraftRead(text, how, None, file_words(error), begins_at)
    return DraftRead(text, how, log, "", begins_at or first_moment(log, draft.firing))


def first_moment(log: LogRead, firing: Firing) -> datetime | None:
    """When the first reading was taken: by the file's clock, in the studio's time zone unless it names its own.

    A clock without a day is set near the firing's start. A file that only counts says nothing.
    """
    if log.begins is not None:
        moment = datetime.fromtimestamp(log.begins, UTC)
        return moment if log.has_zone else timezone.make_aware(moment.replace(tzinfo=None))
    fired = _fired_when(firing)
    if log.clock is None or fired is None:
        return None
    return fired.day_of(log.clock, float(log.seconds[-1]), timezone.get_current_timezone())


def _fired_when(firing: Firing) -> FiredWhen | None:
    return FiredWhen(firing.started_at, timezone.now() + AHEAD) if firing.started_at else None


@transaction.atomic
def keep_draft(*, by: Person, draft: LogDraft) -> FiringLog:
    """Keep what the draft says as the firing's log; the draft is gone then."""
    require(by, "firing.log")
    found = read_draft(draft)
    log = keep_file(by=by, firing=draft.firing, found=found, file_name=draft.file_name)
    draft.delete()
    return log


def keep_file(*, by: Person, firing: Firing, found: DraftRead, file_name: str) -> FiringLog:
    if found.log is None:
        raise Refused(found.problem)
    if found.log.resets and not found.how.resets:
        raise Refused(
            {
                "resets": _(
                    "The time starts anew in this file. Say whether to join the parts or take the longest."
                )
            }
        )
    return keep_log(
        by=by,
        firing=firing,
        seconds=found.log.seconds,
        celsius=found.log.celsius,
        begins_at=found.begins_at,
        marks=found.log.marks,
        how={"file": file_name, **found.how.plain()},
    )


@transaction.atomic
def keep_sent_file(
    *, by: Person, firing: Firing, file: Any, begins_at: datetime | None = None, **told: Any
) -> FiringLog:
    """A file as the log at once, read as guessed but for what is `told`. The same file again changes nothing."""
    require(by, "firing.log")
    name = (getattr(file, "name", "") or "")[:200]
    text = file_text(file)
    try:
        how = told_otherwise(text, guess(text, anyhow="time" in told and "temperature" in told), **told)
        log = read(text, how, timezone.get_current_timezone(), _fired_when(firing))
    except LogFileError as error:
        raise Refused({"file": file_words(error)}) from error
    kept = log_of(firing)
    if kept is not None and _is_the_same(kept, log):
        return kept
    begins_at = begins_at or first_moment(log, firing)
    return keep_file(by=by, firing=firing, found=DraftRead(text, how, log, "", begins_at), file_name=name)


def _is_the_same(kept: FiringLog, log: LogRead) -> bool:
    return kept.source == FiringLog.Source.FILE and bytes(kept.readings) == pack(log.seconds, log.celsius)


@transaction.atomic
def drop_draft(*, by: Person, draft: LogDraft) -> None:
    """Not this file after all."""
    require(by, "firing.log")
    draft.delete()
