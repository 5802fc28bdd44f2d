"""The invented workshop, its sign-ins and its diary."""

from __future__ import annotations

from django.conf import settings
from django.db import transaction

from builds.actions.errors import Refused
from builds.demo.cast import Login, cast
from builds.demo.diary import diary
from builds.demo.plan import REACHED_AT, WORKSHOP, demo_plan
from builds.models import Build, Person, Update, User, Workshop
from builds.planning.exchange import import_plan
from builds.tasks.replan import request_replan

PASSWORD = "an invented workshop"  # worth nothing: given out only where DEMO is set


@transaction.atomic
def load_demo() -> Workshop:
    """Put the invented workshop in place; done twice, it is there once."""
    keys = [build["id"] for build in demo_plan()["builds"]]
    strangers = Build.objects.exclude(key__in=keys).exists()
    if strangers and not settings.DEMO:
        raise Refused("There are real cars here. Set DEMO=1 to replace them.")
    import_plan(demo_plan(), pin_clock=True)
    Workshop.objects.filter(pk=1).update(name=WORKSHOP, **REACHED_AT)
    for login in cast():
        _sign_in(login)
    for note in diary():
        build = Build.objects.get(key=note.build)
        Update.objects.get_or_create(build=build, day=note.day, words=note.words)
    request_replan()
    return Workshop.current()


def _sign_in(login: Login) -> None:
    person = Person.objects.get(key=login.person) if login.person else None
    facts = {"role": login.role, "person": person, "first_name": login.display_name}
    user, _ = User.objects.update_or_create(username=login.username, defaults=facts)
    user.cars.set(Build.objects.filter(key__in=login.builds))
    if not settings.DEMO:
        user.set_unusable_password()
    elif not user.check_password(PASSWORD):
        user.set_password(PASSWORD)
    user.save()
