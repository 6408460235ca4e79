"""What every part of a place may still get: room left, what binds, when it opens again."""

from planner.core.limits.ceilings import Ceiling, ceilings_of
from planner.core.limits.faces import Face, Faces, faces_of
from planner.core.limits.standing import Closure, Standing, Why, standing_of

__all__ = [
    "Ceiling",
    "Closure",
    "Face",
    "Faces",
    "Standing",
    "Why",
    "ceilings_of",
    "faces_of",
    "standing_of",
]
