"""The system checks: silent in a good house, each with its hint in a bad one."""

import pytest
from django.core.checks import run_checks

SOUND = {"PUBLIC_URL": "https://tiles.example.org", "HTTPS": True, "BEHIND_PROXY": True, "DEBUG": False}


@pytest.fixture
def house(settings, tmp_path):
    """A sound house in a folder of its own; the ids of what the checks of this project find in it."""
    settings.DATA_DIR = tmp_path
    for name, value in SOUND.items():
        setattr(settings, name, value)
    (tmp_path / "secret_key").write_text("k" * 60)
    (tmp_path / "secret_key").chmod(0o600)

    def found(deploy=True):
        checks = [c for c in run_checks(include_deployment_checks=deploy) if c.id.startswith("studio.")]
        assert all(check.hint for check in checks)
        return {check.id for check in checks}

    return found


def test_a_sound_house_is_silent(house):
    assert house() == set()


def test_a_key_that_others_can_read(house, tmp_path):
    (tmp_path / "secret_key").chmod(0o640)
    assert house(deploy=False) == {"studio.E001"}


def test_a_folder_that_cannot_be_written(house, monkeypatch):
    monkeypatch.setattr("studio.checks.os.access", lambda path, mode: False)
    assert house(deploy=False) == {"studio.E002"}


@pytest.mark.parametrize(
    ("bad", "check"),
    [
        ({"PUBLIC_URL": "", "HTTPS": False}, "studio.W001"),
        ({"BEHIND_PROXY": False}, "studio.W002"),
        ({"DEBUG": True}, "studio.E003"),
    ],
)
def test_what_is_only_wrong_in_public_is_found_before_deployment(house, settings, bad, check):
    for name, value in bad.items():
        setattr(settings, name, value)
    assert house() == {check}
    assert house(deploy=False) == set()
