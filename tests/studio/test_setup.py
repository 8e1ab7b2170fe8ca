"""Setting up a studio by options and by answers."""

import io
import stat

import pytest
from django.core.management import CommandError, call_command

from studio.env import read_file
from studio.management import questions
from studio.models import Change, Person, Studio
from tests import make

GIVEN = {
    "no_input": True,
    "studio_name": "Undershot Pottery",
    "name": "Rosalind",
    "username": "rosalind",
    "time_zone": "Europe/Dublin",
    "temperature_unit": "f",
    "units": "us",
    "public_url": "https://tiles.example.org/",
}


@pytest.fixture
def data_dir(db, settings, tmp_path):
    settings.DATA_DIR = tmp_path
    return tmp_path


@pytest.fixture
def password_file(tmp_path):
    file = tmp_path / "password"
    file.write_text("sluice gate at dawn\nnot this line\n")
    return str(file)


def test_everything_by_options(data_dir, password_file):
    call_command("setup", password_file=password_file, **GIVEN, stdout=io.StringIO())
    studio, manager = Studio.objects.get(), Person.objects.get()
    assert (studio.name, studio.time_zone, studio.language) == ("Undershot Pottery", "Europe/Dublin", "en")
    assert (studio.units, studio.temperature_unit, studio.is_demo) == ("us", "f", False)
    assert (manager.role, manager.units, manager.temperature_unit) == ("manager", "us", "f")
    assert manager.check_password("sluice gate at dawn")
    file = data_dir / "tilekeep.env"
    assert read_file(file) == {"TILEKEEP_PUBLIC_URL": "https://tiles.example.org"}
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert set(Change.objects.values_list("verb", flat=True)) == {"set up", "joined"}


def test_the_password_may_come_from_standard_input(data_dir, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO("sluice gate at dawn\n"))
    call_command("setup", password_file="-", **GIVEN, stdout=io.StringIO())
    assert Person.objects.get().check_password("sluice gate at dawn")


@pytest.mark.parametrize(
    ("option", "value", "sentence"),
    [
        ("studio_name", None, "--studio-name is missing"),
        ("username", "", "--username: "),
        ("time_zone", "Dublin", "Dublin is not a time zone"),
        ("units", "stones", "Write one of: metric, us"),
        ("language", "xx", "--language: Write one of"),
        ("public_url", "tiles.example.org", "write the whole address"),
    ],
)
def test_a_bad_option_is_refused_by_name_and_nothing_is_set_up(
    data_dir, password_file, option, value, sentence
):
    with pytest.raises(CommandError, match=sentence):
        call_command("setup", **{**GIVEN, "password_file": password_file, option: value})
    assert not Studio.objects.exists()
    assert not Person.objects.exists()
    assert not (data_dir / "tilekeep.env").exists()


def test_a_weak_password_is_refused(data_dir, tmp_path):
    (tmp_path / "short").write_text("clay\n")
    with pytest.raises(CommandError, match="too short"):
        call_command("setup", password_file=str(tmp_path / "short"), **GIVEN)
    with pytest.raises(CommandError, match="cannot be read"):
        call_command("setup", password_file=str(tmp_path / "nowhere"), **GIVEN)
    assert not Person.objects.exists()


def test_bad_answers_are_asked_again(data_dir, monkeypatch):
    answers = iter(
        [
            *["", "Undershot Pottery", "Rosalind", "rosalind"],
            *["Mars/Base", "Europe/Dublin", "xx", "", "k", "", "", "ftp://x", ""],
        ]
    )
    passwords = iter(["short", "sluice gate at dawn"])
    asked = []
    monkeypatch.setattr("builtins.input", lambda text: asked.append(text) or next(answers))
    monkeypatch.setattr("getpass.getpass", lambda text: asked.append(text) or next(passwords))
    err = io.StringIO()
    call_command("setup", stdout=io.StringIO(), stderr=err)
    assert next(answers, None) is None
    assert len(asked) == 15
    for sentence in ("Mars/Base is not a time zone", "too short", "Write one of: c, f", "whole address"):
        assert sentence in err.getvalue()
    assert Studio.objects.get().time_zone == "Europe/Dublin"
    assert Person.objects.get().check_password("sluice gate at dawn")
    assert not (data_dir / "tilekeep.env").exists()


def test_nobody_at_the_keyboard_is_a_sentence(data_dir, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    with pytest.raises(CommandError, match="--no-input"):
        call_command("setup", stdout=io.StringIO())


def test_a_second_run_is_refused(data_dir, password_file):
    call_command("setup", password_file=password_file, **GIVEN, stdout=io.StringIO())
    with pytest.raises(CommandError, match="set up already"):
        call_command("setup", password_file=password_file, **{**GIVEN, "studio_name": "Another"})
    assert Studio.objects.get().name == "Undershot Pottery"


def test_the_demo_is_not_turned_into_a_real_studio(data_dir, password_file):
    make.studio(is_demo=True)
    with pytest.raises(CommandError, match="holds the demo"):
        call_command("setup", password_file=password_file, **GIVEN)


def test_the_time_zone_is_guessed_from_the_environment(monkeypatch):
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    assert questions.guessed_time_zone() == "Pacific/Auckland"
