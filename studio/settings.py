"""Settings: read from the environment (see env.py), refused loudly when they make no sense."""

from datetime import timedelta
from pathlib import Path

from csp.constants import NONE, SELF

from studio.env import Environment

BASE_DIR = Path(__file__).resolve().parent.parent
FIXTURES_DIR = BASE_DIR / "fixtures"
env = Environment(BASE_DIR)

DATA_DIR = env.data_dir
SECRET_KEY = env.secret_key()
DEBUG = env.yes_no("TILEKEEP_DEBUG")
PUBLIC_URL = env.public_url()
ALLOWED_HOSTS = env.allowed_hosts()
WORKERS = env.number("TILEKEEP_WORKERS", default=2, low=1, high=64)

INSTALLED_APPS = [
    "studio",
    "inventory",
    "tiles",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "django_filters",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "django_htmx",
    "axes",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "studio.station_door.StationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "studio.middleware.StudioMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "studio.urls"
WSGI_APPLICATION = "studio.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "studio.context.frame",
            ],
            "builtins": ["django.templatetags.i18n", "django_htmx.templatetags.django_htmx"],
        },
    }
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"
INSTALLED_APPS.append("django.forms")

DATABASES = {"default": env.database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

STORAGES = {
    "default": env.photo_storage(),
    "photos": env.photo_storage(),
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static"
# A page must not fall over a missing picture; the name is checked when `serve` collects them.
WHITENOISE_MANIFEST_STRICT = False
WHITENOISE_USE_FINDERS = DEBUG

AUTH_USER_MODEL = "studio.Person"
LOGIN_URL = "studio:login"
LOGIN_REDIRECT_URL = "studio:home"
LOGOUT_REDIRECT_URL = "studio:login"
AUTHENTICATION_BACKENDS = ["axes.backends.AxesStandaloneBackend", "django.contrib.auth.backends.ModelBackend"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ["username", "name"]},
    },
]

# A co-op is one address: lock the name at that address, never the whole address.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_RESET_ON_SUCCESS = True
AXES_USERNAME_CALLABLE = "studio.attempts.name_tried"
AXES_CLIENT_IP_CALLABLE = "studio.attempts.address_of"
AXES_LOCKOUT_CALLABLE = "studio.views.login.locked_out"
# Trying on while locked out must not make the wait longer than the page said.
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_ENABLE_ADMIN = False
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English")]
LOCALE_PATHS = [BASE_DIR / "studio" / "locale"]
TIME_ZONE = "UTC"
USE_TZ = True
USE_I18N = True

HTTPS = PUBLIC_URL.startswith("https://")
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_AGE = int(timedelta(days=30).total_seconds())
CSRF_TRUSTED_ORIGINS = [PUBLIC_URL] if PUBLIC_URL else []
CSRF_FAILURE_VIEW = "studio.views.errors.csrf_failure"
SECURE_SSL_REDIRECT = HTTPS
# The container's or the proxy's own health check asks over plain http.
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]
SECURE_HSTS_SECONDS = int(timedelta(days=365).total_seconds()) if HTTPS else 0
# Other services of the studio may live under the same name: what they speak is theirs to say.
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = False
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]
SECURE_REFERRER_POLICY = "same-origin"
BEHIND_PROXY = env.yes_no("TILEKEEP_BEHIND_PROXY")
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:"],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

# Photos arrive one at a time; anything past this is read from a temporary file.
FILE_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "studio.api.authentication.TokenAuthentication",
        "studio.api.authentication.PageSessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["studio.api.permissions.RoleTable"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["studio.api.parsers.JSONParser"],
    "DEFAULT_FILTER_BACKENDS": ["studio.api.filters.StrictFilterBackend"],
    "DEFAULT_PAGINATION_CLASS": "studio.paging.NewestFirst",
    "DEFAULT_SCHEMA_CLASS": "studio.api.schema.StudioSchema",
    "EXCEPTION_HANDLER": "studio.api.problems.handle",
    "PAGE_SIZE": 50,
    "COERCE_DECIMAL_TO_STRING": True,
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
    "UNAUTHENTICATED_USER": "django.contrib.auth.models.AnonymousUser",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Tilekeep",
    "DESCRIPTION": "Buckets, test tiles and layerings of one pottery studio.",
    "VERSION": "1",
    "SERVE_INCLUDE_SCHEMA": False,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "COMPONENT_SPLIT_REQUEST": True,
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
    # Choices stand where they are used: named by hand here, they would name the apps above.
    "POSTPROCESSING_HOOKS": ["studio.api.schema.finish"],
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": "INFO"},
    "loggers": {"axes": {"level": "WARNING"}, "django.request": {"level": "ERROR"}},
}
