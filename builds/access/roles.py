"""What someone may do: plain questions about a user."""

from __future__ import annotations

from django.contrib.auth.models import AnonymousUser

from builds.models import Build, Job, Person, Role, User

Visitor = User | AnonymousUser


def is_lead(user: Visitor) -> bool:
    """Say whether they run the workshop's plan."""
    return isinstance(user, User) and user.role == Role.LEAD


def is_technician(user: Visitor) -> bool:
    """Say whether they work on the cars."""
    return isinstance(user, User) and user.role == Role.TECHNICIAN


def is_customer(user: Visitor) -> bool:
    """Say whether they own a car here."""
    return isinstance(user, User) and user.role == Role.CUSTOMER


def is_staff(user: Visitor) -> bool:
    """Say whether they belong to the workshop."""
    return is_lead(user) or is_technician(user)


def may_view_build(user: Visitor, build: Build) -> bool:
    """Say whether they may see this car: the workshop all, a customer their own."""
    if is_staff(user):
        return True
    if not isinstance(user, User) or not is_customer(user):
        return False
    return user.cars.filter(pk=build.pk).exists()


def may_view_job(user: Visitor, job: Job) -> bool:
    """Say whether they may see this job: the workshop any, a customer none."""
    return is_staff(user)


def may_view_hours(user: Visitor, person: Person) -> bool:
    """Say whether they may see somebody's hours: the lead all, a technician theirs."""
    if isinstance(user, User) and is_technician(user):
        return bool(user.person_id == person.pk)
    return is_lead(user)


def may_choose(user: Visitor, job: Job) -> bool:
    """Say whether they may answer for this car."""
    if is_customer(user) and job.build is not None:
        return may_view_build(user, job.build)
    return is_lead(user)
