"""What may stand for a row in an address: any name the plan file allows."""

from django.urls import register_converter


class PlanKey:
    """A key of the plan: one line, no letters nobody can see."""

    regex = r"[^\x00-\x1f\x7f-\x9f]{1,100}"

    def to_python(self, value: str) -> str:
        """Take it as it is."""
        return value

    def to_url(self, value: str) -> str:
        """Write it as it is; quoting is done by the address itself."""
        return value


register_converter(PlanKey, "plan_key")
