"""Who signs in."""

from __future__ import annotations

from django.contrib.auth.models import AbstractUser
from django.db import models


class Role(models.TextChoices):
    """What someone is here for."""

    LEAD = "lead", "Lead"
    TECHNICIAN = "technician", "Technician"
    CUSTOMER = "customer", "Customer"


class User(AbstractUser):
    """Someone who signs in; a customer sees their own cars and no others."""

    role = models.CharField(max_length=20, choices=Role, default=Role.CUSTOMER)
    person = models.ForeignKey(
        "builds.Person",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="users",
    )
    cars = models.ManyToManyField("builds.Build", related_name="owners", blank=True)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values), name="role_is_known"
            ),
        )

    def __str__(self) -> str:
        return self.get_full_name() or self.username
