"""The look keeps its rules: strict templates, readable contrast, neutral walls, forms that lose nothing."""

import re
from pathlib import Path
from types import SimpleNamespace

import pytest
from django import forms
from django.contrib.auth.models import AnonymousUser
from django.template.loader import render_to_string
from django.urls import reverse

from studio import registry

ROOT = Path(__file__).resolve().parents[2]
STATIC = ROOT / "studio" / "static" / "studio"
TOKENS = (STATIC / "tokens.css").read_text()
LOOK = (STATIC / "look.css").read_text()
TEMPLATES = sorted(
    path for app in ("studio", "inventory", "tiles") for path in (ROOT / app).glob("templates/**/*.*")
)

FORBIDDEN = {
    "an inline style": r"\sstyle\s*=|<style\b",
    "an inline script": r"<script(?![^>]*\bsrc=)|javascript:",
    "an inline handler": r"\s(?:hx-)?on[a-z:-]+\s*=",
    "something from outside": r"(?:src|href)\s*=\s*[\"'](?:https?:)?//",
}


def faults(html):
    return [name for name, pattern in FORBIDDEN.items() if re.search(pattern, html, re.IGNORECASE)]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_template_needs_more_than_the_strict_policy(path):
    assert faults(path.read_text()) == []


@pytest.mark.parametrize(
    "html",
    [
        '<p style="color:red">',
        "<style>p{}</style>",
        "<script>go()</script>",
        '<a onclick="go()">',
        '<b hx-on:click="go()">',
        '<img src="//elsewhere.example/a.png">',
    ],
)
def test_the_scan_sees_each_kind_of_fault(html):
    assert faults(html)


def declared(block):
    return dict(re.findall(r"(--[\w-]+):\s*([^;]+);", block))


DAY = declared(TOKENS.split("@media")[0])
NIGHTS = [declared(block) for block in re.findall(r":root(?::not\(|\[)[^{]*\{([^}]*)\}", TOKENS)]
NIGHT = DAY | NIGHTS[0]


def luminance(colour):
    """Relative luminance, WCAG 2.2 (W3C, 2023), definition 'relative luminance'."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


WORDS = [
    ("--ink", "--panel"), ("--ink", "--wall"), ("--ink", "--sunk"), ("--soft", "--panel"),
    ("--soft", "--wall"), ("--soft", "--sunk"), ("--on-ink", "--ink"), ("--stop", "--panel"),
    ("--warn", "--panel"),
]  # fmt: skip


@pytest.mark.parametrize("theme", [DAY, NIGHT], ids=["day", "night"])
def test_words_and_edges_can_be_read(theme):
    """WCAG 2.2, 1.4.3 (text, 4.5:1) and 1.4.11 (controls, 3:1)."""
    assert {pair: r for pair in WORDS if (r := contrast(theme[pair[0]], theme[pair[1]])) < 4.5} == {}
    assert contrast(theme["--edge"], theme["--panel"]) >= 3
    assert contrast(theme["--edge"], theme["--sunk"]) >= 3


@pytest.mark.parametrize(("theme", "value"), [(DAY, 7), (NIGHT, 3.5)], ids=["N7", "N3.5"])
def test_the_wall_is_the_munsell_grey_it_claims(theme, value):
    """ASTM D1535: reflectance in per cent of a Munsell value (coefficients from memory; V = 10 gives 100)."""
    terms = (1.1914, -0.22533, 0.23352, -0.020484, 0.00081939)
    reflectance = sum(term * value**power for power, term in enumerate(terms, start=1))
    assert luminance(theme["--wall"]) * 100 == pytest.approx(reflectance, abs=0.3)


def test_only_warnings_and_clay_have_a_colour():
    tinted = {
        name
        for theme in (DAY, NIGHT)
        for name, value in theme.items()
        if re.fullmatch(r"#[0-9a-f]{6}", value) and len({value[1:3], value[3:5], value[5:7]}) > 1
    }
    assert {name for name in tinted if not name.startswith("--clay-")} == {"--stop", "--warn"}


def test_both_nights_are_the_same_night():
    assert len(NIGHTS) == 2
    assert NIGHTS[0] == NIGHTS[1]


def test_every_token_that_is_used_exists_and_every_one_that_exists_is_used():
    own = set(re.findall(r"(--[\w-]+):", LOOK)) - set(DAY)  # a token may be set anew for a part of the page
    used = set(re.findall(r"var\((--[\w-]+)\)", LOOK + TOKENS))
    assert used - (own - set(DAY)) == set(DAY)  # a token may be set anew for one place
    assert not re.search(r"#[0-9a-f]{6}\b", LOOK), "colours live in tokens.css"


class Sample(forms.Form):
    """One of each kind of question."""

    number = forms.CharField(help_text="As scratched.")
    method = forms.ChoiceField(widget=forms.RadioSelect, choices=[("dip", "dip"), ("brush", "brush")])
    coats = forms.IntegerField()
    wiped = forms.BooleanField(required=False)


def test_a_failed_form_counts_its_faults_says_them_beside_the_question_and_keeps_what_was_typed():
    html = render_to_string("studio/_form.html", {"form": Sample({"number": "<312>", "coats": "two"})})
    assert "2 things need another look" in html
    assert 'value="&lt;312&gt;"' in html
    assert 'value="two"' in html
    ids = set(re.findall(r'\sid="([^"]+)"', html))
    assert set(re.findall(r'href="#([^"]+)"', html)) == {"id_method_group", "id_coats"} <= ids
    described = {one for group in re.findall(r'aria-describedby="([^"]+)"', html) for one in group.split()}
    assert described == {"id_number_helptext", "id_method_error", "id_coats_error"} <= ids


def test_every_question_has_its_label():
    html = render_to_string("studio/_form.html", {"form": Sample()})
    for control in re.findall(r"<(?:input|select|textarea)[^>]*>", html):
        name = re.search(r'id="([^"]+)"', control)[1]
        assert f'for="{name}"' in html or re.search(rf"<label class=\"chip\">{re.escape(control)}", html), (
            control
        )


def test_each_clay_has_a_fill():
    clays = {name.removeprefix("--") for name in DAY if name.startswith("--clay-")}
    assert set(re.findall(r"\.(clay-\w+) \{ fill:", LOOK)) == clays | {"clay-unknown"}


WORDS_OF_THE_FRAME = [item for item in registry.nav if item.where == "frame"]


def test_a_phone_has_five_words_at_most_with_logging_in_the_middle():
    assert len(WORDS_OF_THE_FRAME) == 5
    assert [item.emphasised for item in WORDS_OF_THE_FRAME] == [False, False, True, False, False]


def frame(person, nav=""):
    context = {"request": SimpleNamespace(user=person), "studio": SimpleNamespace(name="Millrace & Co")}
    return render_to_string("base.html", {**context, "nav_items": WORDS_OF_THE_FRAME, "nav": nav})


def test_a_visitor_sees_the_name_and_the_way_in_and_nothing_else():
    html = frame(AnonymousUser())
    assert "Millrace &amp; Co" in html
    assert re.findall(r'<a [^>]*href="([^"#]+)"', html) == [reverse("studio:login")]


def test_the_frame_holds_every_word_and_marks_where_one_is():
    bar = re.search(
        r"<nav.*?</nav>", frame(SimpleNamespace(is_authenticated=True), nav="tiles:wall"), re.DOTALL
    )[0]
    assert re.findall(r'href="([^"]+)"', bar) == [reverse(item.url_name) for item in WORDS_OF_THE_FRAME]
    assert re.findall(r'href="([^"]+)" aria-current="page"', bar) == [reverse("tiles:wall")]


@pytest.mark.parametrize("name", ["400.html", "500.html"])
def test_the_pages_for_a_broken_request_need_nothing(name):
    html = render_to_string(name)
    assert re.findall(r"<h1>([^<]+)</h1>", html)
    assert "/static/studio/look.css" in html
