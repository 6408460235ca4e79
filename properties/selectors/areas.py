"""Areas of a drawing at the firm's own distances, before any machine or label."""

from datetime import date

from properties.core.outlines import Drawing
from properties.core.setbacks import setbacks_by_default
from properties.core.treatable import Treatment, treat
from properties.models import Property
from properties.selectors.rules import default_claims_at


def treatment_of(drawing: Drawing, *, place: Property, day: date) -> Treatment:
    """Measure a drawing with the distances that are kept at a property on a day."""
    return treat(drawing, setbacks_by_default(drawing, default_claims_at(place, day)))
