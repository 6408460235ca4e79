"""Settings that make tests light: nothing but what a test itself needs is hashed or stored."""

from pathlib import Path

import pytest


def light_settings(folders: pytest.TempPathFactory) -> dict[str, object]:
    """Plain static files, memory for counters, and a folder of its own for pictures."""
    return {
        "STORAGES": {
            "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
            "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
        },
        "CACHES": {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}},
        # Long work is done at once, where a test asks for it.
        "TASKS": {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}},
        "PASSWORD_HASHERS": ["django.contrib.auth.hashers.MD5PasswordHasher"],
        "MEDIA_ROOT": Path(folders.getbasetemp()) / "pictures",
    }
