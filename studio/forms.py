"""What the studio's own pages ask. Actions decide; a form only reads what was typed."""

from decimal import Decimal
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.conf import settings
from django.contrib.auth.forms import AuthenticationForm
from django.utils.text import capfirst
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from studio import units
from studio.models import Person, Studio, Token
from studio.pages import VersionedForm
from studio.roles import PERSON_ROLES, Role

ROLES = [(role.value, role.label) for role in PERSON_ROLES]
PUBLISHED_OPENING_C = {"low": 93, "high": 204, "maker": 120, "patient": 38}  # fixtures/SOURCES.md
WHAT_ROLES_MAY = _(
    "A member logs tiles and reports what is wrong with a bucket. A technician also changes glazes, buckets and "
    "firings and clears flags. A manager also invites people and changes roles."
)


def words(label: Any, most: int, **kwargs: Any) -> forms.CharField:
    """A line of text; `complete` is the browser's autocomplete word."""
    attrs = {"autocomplete": kwargs.pop("complete", "off"), **kwargs.pop("attrs", {})}
    return forms.CharField(label=label, max_length=most, widget=forms.TextInput(attrs), **kwargs)


def secret(label: Any, complete: str = "new-password", **kwargs: Any) -> forms.CharField:
    """A password field: never filled in again, never trimmed."""
    widget = forms.PasswordInput({"autocomplete": complete})
    return forms.CharField(label=label, strip=False, max_length=4096, widget=widget, **kwargs)


class LogInForm(AuthenticationForm):
    """The log-in name is trimmed by its field and found in any case by the manager."""

    error_messages = {
        "invalid_login": _(
            "This log-in name and password do not go together. The name may be written in capitals or not, the "
            "password must be exact. If you have forgotten it, a manager can give you a link for a new one."
        ),
        "inactive": _("This account is closed. Ask a manager to open it again."),
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].error_messages["required"] = _("Type your log-in name.")
        self.fields["password"].error_messages["required"] = _("Type your password.")


class TwiceMixin(forms.Form):
    """A new password is typed twice, because nobody sees it."""

    twice = "password"

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        first, again = data.get(self.twice), data.pop("again", None)
        if first and again and first != again:
            self.add_error("again", _("The two are not the same. Type both once more."))
        return data


class ResetForm(TwiceMixin):
    password = secret(_("New password"), help_text=_("At least 10 characters; a few odd words are good."))
    again = secret(_("The same once more"))


class JoinForm(TwiceMixin):
    name = words(_("Your name"), 120, complete="name", help_text=_("As the others in the studio know you."))
    username = words(
        _("Log-in name"),
        60,
        complete="username",
        attrs={"autocapitalize": "none", "spellcheck": "false"},
        help_text=_("What you will type to log in, together with the password."),
    )
    password = secret(_("Password"), help_text=_("At least 10 characters; a few odd words are good."))
    again = secret(_("The same once more"))


class PasswordForm(TwiceMixin):
    twice = "new"
    old = secret(_("Password as it is now"), complete="current-password")
    new = secret(_("New password"), help_text=_("At least 10 characters; a few odd words are good."))
    again = secret(_("The same once more"))


class PreferencesForm(forms.Form):
    name = words(_("Name"), 120, complete="name")
    temperature_unit = forms.ChoiceField(
        label=_("Temperatures in"), choices=Person.TemperatureUnit, widget=forms.RadioSelect
    )
    units = forms.ChoiceField(
        label=_("Weights and volumes in"), choices=Person.Units, widget=forms.RadioSelect
    )


class PinInput(forms.TextInput):
    """Digits that are never filled in again. Not a password field: a shared browser must not offer to keep it."""

    def format_value(self, value: Any) -> str | None:
        return None


def pin_field(label: Any, **attrs: Any) -> forms.CharField:
    attrs = {"class": "pin", "inputmode": "numeric", "pattern": "[0-9]*", "autocomplete": "off", **attrs}
    return forms.CharField(label=label, max_length=8, widget=PinInput(attrs))


class NewPinForm(TwiceMixin):
    twice = "pin"
    pin = pin_field(_("New PIN"))
    again = pin_field(_("The same once more"))


class PinForm(forms.Form):
    pin = pin_field(_("PIN"), autofocus=True)


class StationForm(forms.Form):
    name = words(_("Where it stands"), 80, help_text=_("Such as: glaze table. The history names it."))


class TokenForm(forms.Form):
    name = words(_("What it is for"), 80)
    scope = forms.ChoiceField(
        label=_("It may"), choices=Token.Scope, widget=forms.RadioSelect, initial=Token.Scope.READ
    )
    kind = forms.ChoiceField(
        label=_("Whose rights"), choices=Token.Kind, widget=forms.RadioSelect, initial=Token.Kind.PERSON
    )
    days = forms.IntegerField(label=_("Days until it ends"), initial=90)

    def __init__(self, *args: Any, devices: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not devices:
            del self.fields["kind"]


class InviteForm(forms.Form):
    note = words(_("For whom"), 120, help_text=_("So that you know the link again; only managers see it."))
    role = forms.ChoiceField(
        label=_("Role"),
        choices=ROLES,
        widget=forms.RadioSelect,
        initial=Role.MEMBER,
        help_text=WHAT_ROLES_MAY,
    )
    days = forms.IntegerField(label=_("Days until the link runs out"), initial=14)


class PersonForm(forms.Form):
    name = words(_("Name"), 120)
    role = forms.ChoiceField(
        label=_("Role"), choices=ROLES, widget=forms.RadioSelect, help_text=WHAT_ROLES_MAY
    )
    is_active = forms.BooleanField(
        label=_("May log in"),
        required=False,
        help_text=_("Without this the account is closed. Tiles and entries of this person stay."),
    )
    reason = words(_("Why"), 200, required=False)
    # What the page showed. A person has no version: two managers may write at once if it is of different things.
    seen = forms.JSONField(widget=forms.HiddenInput, required=False)

    def values(self) -> dict[str, Any]:
        """What was typed anew; what was only sent back must not undo another manager's change."""
        seen = self.cleaned_data["seen"] if isinstance(self.cleaned_data["seen"], dict) else {}
        typed = {name: self.cleaned_data[name] for name in ("name", "role", "is_active")}
        return {name: value for name, value in typed.items() if name not in seen or seen[name] != value}


class PriceField(forms.DecimalField):
    """A price as it is said: 0,31 or 0.31, and shown without the noughts that the column adds."""

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)

    def prepare_value(self, value: Any) -> Any:
        return f"{value.normalize():f}" if isinstance(value, Decimal) else value


class OpeningField(forms.IntegerField):
    """Whole °C, said and shown in the unit that the person reads; the bounds are the model's."""

    LOWEST_C, HIGHEST_C = 30, 204

    def prepare_value(self, value: Any) -> Any:
        return round(units.degrees(value)) if isinstance(value, int) else value

    def clean(self, value: Any) -> Any:
        # Hundreds of digits would be more than can be reckoned with.
        shown = max(-9999, min(super().clean(value), 9999))
        celsius = round(units.from_degrees(shown))
        if not self.LOWEST_C <= celsius <= self.HIGHEST_C:
            ends = {"low": units.temperature(self.LOWEST_C), "high": units.temperature(self.HIGHEST_C)}
            raise forms.ValidationError(_now("Choose from %(low)s to %(high)s.") % ends)
        return celsius


class SettingsForm(VersionedForm):
    name = words(_("Name of the studio"), 120)
    time_zone = words(_("Time zone"), 60, attrs={"list": "time-zones"}, help_text=_("Such as Europe/Dublin."))
    language = forms.ChoiceField(label=_("Language"), choices=settings.LANGUAGES)
    temperature_unit = forms.ChoiceField(
        label=_("Temperatures for visitors and newcomers in"),
        choices=Person.TemperatureUnit,
        widget=forms.RadioSelect,
    )
    units = forms.ChoiceField(
        label=_("Weights and volumes for visitors and newcomers in"),
        choices=Person.Units,
        widget=forms.RadioSelect,
    )
    bucket_pages_open = forms.BooleanField(
        label=capfirst(Studio._meta.get_field("bucket_pages_open").verbose_name),
        help_text=Studio._meta.get_field("bucket_pages_open").help_text,
        required=False,
    )
    open_wall_open = forms.BooleanField(
        label=capfirst(Studio._meta.get_field("open_wall_open").verbose_name),
        help_text=Studio._meta.get_field("open_wall_open").help_text,
        required=False,
    )
    sg_stale_after_days = forms.IntegerField(
        label=capfirst(Studio._meta.get_field("sg_stale_after_days").verbose_name),
        help_text=_("From 1 to 365. The lid then asks for a new measurement."),
    )
    station_locks_after_seconds = forms.IntegerField(
        label=capfirst(Studio._meta.get_field("station_locks_after_seconds").verbose_name),
        help_text=_("From 15 to 900, counted from the last touch."),
    )
    opening_c = OpeningField()
    price_per_kwh = PriceField(
        label=capfirst(Studio._meta.get_field("price_per_kwh").verbose_name),
        required=False,
        max_digits=7,
        decimal_places=4,
        widget=forms.TextInput({"inputmode": "decimal", "size": 8, "autocomplete": "off"}),
        help_text=_("With it the cost of a firing is shown."),
    )
    currency = words(
        capfirst(Studio._meta.get_field("currency").verbose_name),
        8,
        required=False,
        help_text=Studio._meta.get_field("currency").help_text,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        opening = self.fields["opening_c"]
        opening.label = _now("A kiln is opened below (%(unit)s)") % {"unit": units.temperature_unit()}
        figures = {name: units.temperature(celsius) for name, celsius in PUBLISHED_OPENING_C.items()}
        opening.help_text = (
            _now(
                "Published figures run from %(low)s to %(high)s, the lowest of a kiln maker is %(maker)s; some"
                " studios wait for less than %(patient)s. The manual of your kiln comes first."
            )
            % figures
        )

    @staticmethod
    def time_zones() -> list[str]:
        """Places, without the technical names of the list."""
        return sorted(zone for zone in available_timezones() if "/" in zone and not zone.startswith("Etc/"))
