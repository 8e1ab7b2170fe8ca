"""The checkout itself: what lies where, and what must not be in it."""

import re
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings
from django.template.loader import get_template

from studio.env import KNOWN

ROOT = Path(settings.BASE_DIR)
TOP = {"README.md", "DEVELOPERS.md", "manage.py", "pyproject.toml", "studio", "inventory", "tiles", "tests"}
TOP |= {"fixtures"}
NOT_THE_PROJECT = {"data", "build"}  # ignored by git
TEXT = {".py", ".html", ".css", ".js", ".svg", ".md", ".toml", ".csv", ".yaml", ".yml", ".txt", ".json", ""}

# Put together here, so that this file does not hold what it forbids.
FORBIDDEN = {
    "a path of somebody's machine": r"(?<![\w.\-<}])/(?:home|root|work|Users)/\w",
    "a package registry's host": r"\b(?:"
    + "|".join(["pypi\\." + "org", "python" + "hosted", "npm" + "js\\.(?:org|com)"])
    + ")",
    "unfinished work": r"\b(?:TO" + "DO|FIX" + "ME|XX" + r"X)\b",
}


def project_files():
    for top in sorted(ROOT.iterdir()):
        if top.name in TOP or top.name == ".ci":
            for path in [top] if top.is_file() else top.rglob("*"):
                if path.is_file() and "__pycache__" not in path.parts:
                    yield path


def test_top_level_names_are_the_agreed_ones():
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    found = {name for name in found - NOT_THE_PROJECT if not name.endswith(".egg-info")}
    assert found == TOP


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_holds(what):
    pattern = re.compile(FORBIDDEN[what])
    found = [
        f"{path.relative_to(ROOT)}: {hit[0]}"
        for path in project_files()
        if path.suffix in TEXT and (hit := pattern.search(path.read_text(encoding="utf-8")))
    ]
    assert not found


def test_the_patterns_find_what_they_forbid():
    for what, example in [
        ("a path of somebody's machine", "see /home" + "/ana/notes"),
        ("a package registry's host", "https://pypi" + ".org/simple"),
        ("unfinished work", "# TO" + "DO: later"),
    ]:
        assert re.search(FORBIDDEN[what], example), what


def templates():
    for app in apps.get_app_configs():
        folder = Path(app.path) / "templates"
        if ROOT in folder.parents and folder.is_dir():
            yield from (path.relative_to(folder).as_posix() for path in folder.rglob("*.html"))


def test_every_template_loads():
    names = list(templates())
    assert "base.html" in {name.rsplit("/", 1)[-1] for name in names}
    for name in names:
        get_template(name)


def test_no_template_holds_inline_script_or_style():
    """The Content-Security-Policy would refuse it in the browser."""
    inline = re.compile(r"<style\b|\sstyle=|\son[a-z]+=\"|<script(?![^>]*\ssrc=)", re.IGNORECASE)
    found = [
        f"{path.relative_to(ROOT)}: {hit[0]}"
        for path in project_files()
        if path.suffix == ".html" and (hit := inline.search(path.read_text(encoding="utf-8")))
    ]
    assert not found


def test_every_fixture_has_a_source():
    said = (ROOT / "fixtures" / "SOURCES.md").read_text(encoding="utf-8")
    for path in (ROOT / "fixtures").rglob("*"):
        if path.is_file() and path.name != "SOURCES.md":
            name = path.relative_to(ROOT / "fixtures").as_posix()
            assert f"## {name}" in said or f"## {name.split('/')[0]}/" in said, name


def test_the_readme_lists_every_setting():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    table = dict(re.findall(r"^\| `(TILEKEEP_\w+)` \| (.+) \|$", readme, re.MULTILINE))
    assert table == KNOWN


def test_every_dependency_is_pinned_exactly():
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *sum(project["optional-dependencies"].values(), [])]
    assert all(re.fullmatch(r"[\w\-]+(\[\w+\])?==[\w.]+", line) for line in wanted), wanted
