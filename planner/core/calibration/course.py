"""Output over a course of known length. Lengths in m, volumes in L, output in L/m²."""

import statistics
from collections.abc import Sequence

from properties.core.errors import require_positive


def course_output_l_per_m2(
    *, volumes_l: Sequence[float], course_length_m: float, swath_m: float
) -> float:
    """Finished spray per area, from the mean volume used over a course.

    Parameters
    ----------
    volumes_l : Sequence[float]
        Spray used in each run that counts, > 0. [L]
    course_length_m : float
        Length of the course, > 0. [m]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    float
        Output. [L/m²]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    Pesticide Environmental Stewardship (NC State), Spray Gun calibration page:
    output = catch / area of the course, area = length times swath.
    """
    mean_l = statistics.fmean(volumes_l)
    require_positive(volumes_l=mean_l, course_length_m=course_length_m, swath_m=swath_m)
    return mean_l / (course_length_m * swath_m)


def course_length_m(*, area_m2: float, swath_m: float) -> float:
    """How long a course must be for its swath to cover an area.

    Parameters
    ----------
    area_m2 : float
        Area to cover, such as 1,000 sq ft, > 0. [m²]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    float
        Length of the course. [m]

    Raises
    ------
    Refused
        If an argument is not a finite number above zero.

    References
    ----------
    NC Cooperative Extension, Onslow County, K. Holt, Calibrating Your Spreader, 2017:
    course = 1,000 sq ft / swath. Ohio State University Extension, Bulletin 817-00: the
    same with 1/128 acre and the nozzle spacing.
    """
    require_positive(area_m2=area_m2, swath_m=swath_m)
    return area_m2 / swath_m
