"""Settings: one laptop by default, everything else by environment variables.

SWARDLINE_DATA       folder for the database, pictures and the local secret (default: var/)
SWARDLINE_SECRET     the secret key; without it one is made and kept in the data folder
SWARDLINE_HOSTS      host names that may be served, separated by commas
SWARDLINE_HTTPS      1 when the site is served through HTTPS
SWARDLINE_DEBUG      1 for a developer's error pages
SWARDLINE_SIGNUP     0 to stop strangers from opening a firm of their own
SWARDLINE_SMTP       host:port of a mail server; without it no mail leaves, it is only printed
SWARDLINE_SMTP_USER, SWARDLINE_SMTP_PASSWORD, SWARDLINE_MAIL_FROM
"""

import os
import secrets
from pathlib import Path
from typing import Any

from csp.constants import NONCE, NONE, SELF

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(os.environ.get("SWARDLINE_DATA", BASE_DIR / "var"))
DATA_DIR.mkdir(parents=True, exist_ok=True)
HTTPS = os.environ.get("SWARDLINE_HTTPS") == "1"
DEBUG = os.environ.get("SWARDLINE_DEBUG") == "1"


def _secret_key() -> str:
    """Take the secret from the environment, or make one for this machine alone."""
    given = os.environ.get("SWARDLINE_SECRET")
    if given:
        return given
    kept = DATA_DIR / "secret-key"
    if not kept.exists():
        kept.touch(mode=0o600)
        kept.write_text(secrets.token_urlsafe(64))
    return kept.read_text()


SECRET_KEY = _secret_key()
ALLOWED_HOSTS = os.environ.get("SWARDLINE_HOSTS", "localhost,127.0.0.1,[::1]").split(",")

INSTALLED_APPS = [
    "properties",
    "planner",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "allauth",
    "allauth.account",
    "csp",
    "leaflet",
    "django_tasks",
    "django_tasks_db",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
]

ROOT_URLCONF = "planner.urls"
WSGI_APPLICATION = "planner.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "properties.web.access.who_is_asking",
            ],
        },
    },
]

DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA_DIR / "swardline.sqlite3",
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "init_command": (
                "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; "
                "PRAGMA busy_timeout=5000; PRAGMA foreign_keys=ON;"
            ),
        },
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
# In the database, so that every process counts failed sign-ins together.
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "cache_entries",
    }
}

# Long work goes through a table to `manage.py db_worker`, which `make run` starts too.
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend", "QUEUES": ["default"]}}

# People and sign-in.
AUTH_USER_MODEL = "properties.Person"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
LOGIN_REDIRECT_URL = "properties"
LOGIN_URL = "account_login"
ACCOUNT_ADAPTER = "properties.web.accounts.FirmAdapter"
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_SIGNUP_FORM_CLASS = "properties.web.forms.accounts.FirmSignup"
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"
ACCOUNT_SIGNUP_ALLOWED = os.environ.get("SWARDLINE_SIGNUP", "1") == "1"
ACCOUNT_DEFAULT_HTTP_PROTOCOL = "https" if HTTPS else "http"
ACCOUNT_SESSION_REMEMBER = True

# Mail, to people who forgot their password and to customers. Pages say where none leaves.
SMTP_HOST, _, SMTP_PORT = os.environ.get("SWARDLINE_SMTP", "").partition(":")
MAIL_IS_SET_UP = bool(SMTP_HOST)
EMAIL_BACKEND = f"django.core.mail.backends.{'smtp' if MAIL_IS_SET_UP else 'console'}.EmailBackend"
EMAIL_HOST, EMAIL_PORT = SMTP_HOST, int(SMTP_PORT or 587)
EMAIL_HOST_USER = os.environ.get("SWARDLINE_SMTP_USER", "")
EMAIL_HOST_PASSWORD = os.environ.get("SWARDLINE_SMTP_PASSWORD", "")
EMAIL_USE_TLS = EMAIL_PORT == 587
EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = os.environ.get("SWARDLINE_MAIL_FROM", "swardline@localhost")

# Language, units and time. Times are stored in UTC and shown where the property is.
LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"
USE_I18N = True
USE_TZ = True
USE_THOUSAND_SEPARATOR = False

# Files.
STATIC_URL = "static/"
STATIC_ROOT = BASE_DIR / "staticfiles"
STATICFILES_DIRS = [BASE_DIR / "static"]
MEDIA_ROOT = DATA_DIR / "pictures"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "planner.static_storage.ModuleManifestStorage"},
}

# The map. No tiles unless a firm adds its own: nothing is asked of any outside host.
LEAFLET_CONFIG: dict[str, Any] = {
    "TILES": [],
    "SCALE": None,
    "RESET_VIEW": False,
    "ATTRIBUTION_PREFIX": False,
    "MIN_ZOOM": 2,
    "MAX_ZOOM": 23,
    "NO_GLOBALS": False,
}

# What a page may load: our own files and nothing else. Pages with a firm's tile
# layers add those hosts to img-src, for themselves only.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF, NONCE],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_HSTS_PRELOAD = HTTPS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
CSRF_FAILURE_VIEW = "properties.web.views.faults.form_too_old"

# A drawing of 20,000 corners is about 1 MB of GeoJSON.
DATA_UPLOAD_MAX_MEMORY_SIZE = 8 * 1024 * 1024
FILE_UPLOAD_HANDLERS = [
    "properties.web.uploads.BoundedUpload",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
