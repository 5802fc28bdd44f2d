"""Settings, in Django's own order; everything that differs comes from the environment.

DEBUG=1 is for one's own machine. A served site needs SECRET_KEY and ALLOWED_HOSTS;
DATABASE_URL and REDIS_URL are optional.
"""

import importlib
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

import environ
from csp.constants import NONE, SELF
from kombu import Queue

# Libraries before SQLite 3.51.3 can corrupt a write-ahead log shared by two
# processes (sqlite.org/wal.html, "The WAL-reset bug"). This one ships a newer one.
with suppress(ImportError):
    sys.modules["sqlite3"] = importlib.import_module("pysqlite3")
sqlite3 = importlib.import_module("sqlite3")

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.Env()

# Core

DEBUG = env.bool("DEBUG", default=False)
DEMO = env.bool("DEMO", default=False)
AT_HOME = DEBUG or "pytest" in sys.modules
# Left empty, Django refuses to serve; commands that sign nothing still run.
SECRET_KEY = env("SECRET_KEY", default="for one's own machine only" if AT_HOME else "")
ALLOWED_HOSTS = env.list(
    "ALLOWED_HOSTS", default=["localhost", "127.0.0.1", "[::1]"] if AT_HOME else []
)
CSRF_TRUSTED_ORIGINS = env.list("CSRF_TRUSTED_ORIGINS", default=[])
ROOT_URLCONF = "builds.urls"
WSGI_APPLICATION = "builds.wsgi.application"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "builds",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "csp",
    "django_htmx",
    "template_partials",
]

MIDDLEWARE = [
    "builds.views.request_ids.RequestIdMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "builds.views.unkept.UnkeptMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "csp.middleware.CSPMiddleware",
    "builds.views.errors.BarePageMiddleware",
    "builds.views.limits.LimitsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "builds.views.health.HealthMiddleware",  # before whoever asks who is there
    "builds.views.wall_clock.WallClockMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "allauth.usersessions.middleware.UserSessionsMiddleware",
    "builds.access.visits.VisitMiddleware",
    "builds.views.phone.outbox.OutboxMiddleware",
    "builds.views.once.OnceMiddleware",  # last: it calls the view
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["template_partials.templatetags.partials"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "builds.selectors.surround.surround",
            ],
        },
    }
]

# Database

JOURNAL = "WAL" if sqlite3.sqlite_version_info >= (3, 51, 3) else "DELETE"
SQLITE_OPTIONS = {
    "timeout": 20,
    # A transaction that reads and then writes would otherwise fail as "locked".
    "transaction_mode": "IMMEDIATE",
    "init_command": f"PRAGMA journal_mode={JOURNAL}; PRAGMA synchronous=FULL;",
}
POSTGRES_OPTIONS = {
    "options": "-c lock_timeout=5000 -c statement_timeout=30000"
    " -c idle_in_transaction_session_timeout=60000"
    # compiling a query takes longer than any of ours
    " -c jit=off"
}
database: dict[str, Any] = env.db(
    "DATABASE_URL", default=f"sqlite:///{BASE_DIR / 'db.sqlite3'}"
)
if database["ENGINE"].endswith("sqlite3"):
    # Kept open: with the last connection the log goes, and on a full disk there is no
    # room to begin it anew, not even for reading. Django's own server has a thread, and
    # so a connection, for each request: there each is closed.
    database |= {"OPTIONS": SQLITE_OPTIONS, "CONN_MAX_AGE": 0 if DEBUG else None}
else:
    database["OPTIONS"] = database.get("OPTIONS", {}) | POSTGRES_OPTIONS
    database |= {"CONN_MAX_AGE": 60, "CONN_HEALTH_CHECKS": True}
DATABASES = {"default": database}

# People

AUTH_USER_MODEL = "builds.User"
LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = LOGIN_URL
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
ACCOUNT_ADAPTER = "builds.access.account_adapter.AccountAdapter"
ACCOUNT_LOGIN_METHODS = {"username"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_FORMS = {
    "login": "builds.forms.sign_in.SignInForm",
    "reauthenticate": "builds.forms.sign_in.AgainForm",
}
ACCOUNT_REAUTHENTICATION_TIMEOUT = 900
MFA_ADAPTER = "builds.access.account_adapter.FactorAdapter"
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes", "webauthn"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_WEBAUTHN_ALLOW_INSECURE_ORIGIN = AT_HOME
MFA_TOTP_TOLERANCE = 1
MFA_RECOVERY_CODES_SHOW_ONCE = True
# A lead signs in with a second factor; in the sample workshop one press is enough.
SECOND_FACTOR = env.bool("SECOND_FACTOR", default=not (AT_HOME or DEMO))
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "builds.access.passwords.LengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "builds.access.passwords.OwnWordsValidator"},
]

# Language and time: the workshop's own zone is a row, not a setting

LANGUAGE_CODE = "en-gb"
USE_I18N = False
USE_TZ = True
TIME_ZONE = "UTC"

# Static files

STATIC_URL = "static/"
STATIC_ROOT = BASE_DIR / "var" / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if AT_HOME
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# At home and under test the files are served from where they are kept.
WHITENOISE_AUTOREFRESH = WHITENOISE_USE_FINDERS = AT_HOME

# Safety

OWN = ("script", "style", "img", "connect", "font", "manifest", "worker")
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        **{f"{kind}-src": [SELF] for kind in OWN},
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
X_FRAME_OPTIONS = "DENY"
CSRF_FAILURE_VIEW = "builds.views.errors.stale_form"
SECURE_REDIRECT_EXEMPT = ["^healthz$", "^readyz$"]  # asked from the machine itself
BEHIND_PROXY = env.bool("BEHIND_PROXY", default=False)
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = not AT_HOME
if not AT_HOME:
    SESSION_COOKIE_NAME = "__Host-session"
    CSRF_COOKIE_NAME = "__Host-csrf"
    SECURE_SSL_REDIRECT = env.bool("SECURE_SSL_REDIRECT", default=True)
    SECURE_HSTS_SECONDS = env.int("SECURE_HSTS_SECONDS", default=31_536_000)
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True
    if BEHIND_PROXY:
        SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

# What all workers count together: tries at signing in

CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.redis.RedisCache",
        "LOCATION": env("REDIS_URL"),
    }
    if env("REDIS_URL", default="")
    else {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "cache",
    }
}

# The queue: without Redis the work is done on the spot

REDIS_URL = env("REDIS_URL", default="")
CELERY_BROKER_URL = REDIS_URL or "memory://"
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
# Work that can wait stands in a line of its own; every worker serves both in turn.
CELERY_TASK_QUEUES = (Queue("celery"), Queue("long"))
CELERY_TASK_ROUTES = {
    "builds.tasks.search.*": {"queue": "long"},
    "builds.tasks.files.*": {"queue": "long"},
    "builds.tasks.copies.*": {"queue": "long"},
}
CELERY_TASK_TIME_LIMIT = 120  # below visibility_timeout, or a job runs twice at once
CELERY_TASK_SOFT_TIME_LIMIT = 100
CELERY_TASK_PUBLISH_RETRY_POLICY = {
    "max_retries": 2,
    "interval_start": 0,
    "interval_step": 0.2,
    "interval_max": 0.5,
}
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "visibility_timeout": 300,
    "unacked_restore_interval": 5,
    "unacked_restore_throttle": 1,
    "socket_timeout": 20,
    "socket_connect_timeout": 3,
    "socket_keepalive": True,
}

# The forecast: counted tries, not seconds, so the same plan gets the same answer

FORECAST_SCHEDULES = env.int("FORECAST_SCHEDULES", default=4)
FORECAST_SAMPLES = env.int("FORECAST_SAMPLES", default=2500)

# Keeping it running

BODY_LARGEST_MB = 25  # the largest plan file, and what a form puts round it
DISK_FLOOR_MB = env.int("DISK_FLOOR_MB", default=200)
# Kept apart from the program, handed out by views that check who asks.
MEDIA_ROOT = Path(env("MEDIA_ROOT", default=str(BASE_DIR / "var" / "media")))
BACKUP_FOLDER = env("BACKUP_FOLDER", default="")
BACKUP_KEY = env("BACKUP_KEY", default="")

CELERY_WORKER_HIJACK_ROOT_LOGGER = False  # the lines below are the worker's, too
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "json": {"()": "builds.upkeep.logs.JsonLines"},
        "plain": {"format": "{levelname} {name}: {message}", "style": "{"},
    },
    "handlers": {
        "lines": {
            "class": "logging.StreamHandler",
            "formatter": "plain" if AT_HOME else "json",
        }
    },
    "root": {"handlers": ["lines"], "level": "WARNING" if AT_HOME else "INFO"},
    "loggers": {
        # Django's own handlers would write each line a second time, in another shape.
        "django": {"handlers": [], "level": "INFO", "propagate": True},
    },
}
