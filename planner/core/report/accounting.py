"""The account of the turf as JSON."""

import math

from planner.core.ground.accounting import Share, account_of
from planner.core.ground.ground import Ground
from planner.core.report.quantities import Json, quantity
from planner.core.shown import Shown


def accounting_as_json(ground: Ground, shown: Shown) -> Json:
    """Write what becomes of every bit of turf, and that it adds up.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``accounting``. [units shown]

    Raises
    ------
    Nothing
        Any ground can be accounted for.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    shares = account_of(ground)
    return {
        "shares": [_share(share, shown) for share in shares],
        "turf_area": quantity(shown.area_of(math.fsum(share.area_m2 for share in shares))),
    }


def _share(share: Share, shown: Shown) -> Json:
    about = {} if share.feature is None else {"feature": share.feature}
    return {
        "fate": share.fate.value,
        "area": quantity(shown.area_of(share.area_m2)),
        "reason": share.reason,
        **about,
    }
