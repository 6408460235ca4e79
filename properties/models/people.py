"""People who sign in, each in one firm and one role."""

from typing import Any

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models

from properties.core.powers import Power, Role, powers_of
from properties.models.firm import Firm, UnitSystem


class PersonManager(BaseUserManager["Person"]):
    """Makes people who can sign in."""

    def create_user(self, email: str, password: str | None = None, **facts: Any) -> "Person":
        """Add a person to a firm. Without a password they set one by a link."""
        person = self.model(email=self.normalize_email(email), **facts)
        person.set_password(password)
        person.full_clean(exclude=["password"])
        person.save(using=self._db)
        return person


class Person(AbstractBaseUser):
    """Somebody of a firm."""

    ROLES = [
        (Role.OWNER, "Owner or estimator"),
        (Role.OFFICE, "Office"),
        (Role.CREW, "Crew applicator"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="people")
    email = models.EmailField(unique=True)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=10, choices=ROLES, default=Role.CREW)
    units = models.CharField(max_length=10, choices=UnitSystem, default=UnitSystem.US)
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    objects = PersonManager()

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "people"

    def __str__(self) -> str:
        return self.name or self.email

    @property
    def powers(self) -> frozenset[Power]:
        """What this person may do."""
        return powers_of(self.role)

    def may(self, power: Power) -> bool:
        """Say whether this person has a power."""
        return power in self.powers
