"""How often something may be asked for: counted in the cache, minute by minute."""

from django.core.cache import cache
from django.utils import timezone

MINUTE_S = 60


def too_often(what: str, *, most: int) -> bool:
    """Count one more of something, and say whether that is more than may be in a minute."""
    minute = int(timezone.now().timestamp()) // MINUTE_S
    key = f"pace:{what}:{minute}"
    cache.add(key, 0, 2 * MINUTE_S)
    try:
        return int(cache.incr(key)) > most
    except ValueError:
        # It fell out of the cache between the two lines: this is the first again.
        return False
