"""The name of the app."""

from importlib import import_module

from django.apps import AppConfig


class BuildsConfig(AppConfig):
    """The one app of this site."""

    name = "builds"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Have what must hold checked, and the doors watched, before serving."""
        import_module("builds.upkeep.checks")
        import_module("builds.upkeep.doors")
