"""Free turf that is left unsprayed, and which feature keeps which of it.

Metres and m², in the plane of the property's frame.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from properties.core.free_ground import Site
from properties.core.left_out import LeftOut
from properties.core.plane import Area, cut
from properties.core.zones import Setback, Zone


class Unsprayed(Protocol):
    """Free turf that is left, the zones that keep it, and each feature's share."""

    @property
    def no_spray(self) -> Area:
        """Free turf that is left unsprayed."""

    @property
    def zones(self) -> tuple[Zone, ...]:
        """The no-spray zone of each feature."""

    @property
    def left_out(self) -> tuple[LeftOut, ...]:
        """Each feature's share of what is left."""


@dataclass(frozen=True)
class AsGiven:
    """Unsprayed ground that was worked out elsewhere."""

    no_spray: Area
    zones: tuple[Zone, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True)
class WithinSetbacks:
    """Free turf within a distance of its features, worked out when it is first asked for."""

    site: Site
    setbacks: Mapping[str, Setback]

    @cached_property
    def zones(self) -> tuple[Zone, ...]:
        """The no-spray zone of each feature."""
        return self.site.zones(self.setbacks)

    @cached_property
    def _kept(self) -> Area:
        return self.site.kept_by(self.zones)

    @cached_property
    def _cut(self) -> tuple[Area, Area]:
        return cut(self.site.free, self._kept)

    @property
    def no_spray(self) -> Area:
        """Free turf under a zone."""
        return self._cut[0]

    @property
    def beyond(self) -> Area:
        """Free turf under no zone."""
        return self._cut[1]

    @cached_property
    def left_out(self) -> tuple[LeftOut, ...]:
        """Each feature's share of what is left."""
        return self.site.left_out(self.zones, kept=self._kept, unsprayed=self.site.free)
