"""Which year a page about seasons is about."""

from datetime import date

from django.http import HttpRequest

from planner.services.jobs import FIRST_YEAR, LAST_YEAR

#: From this month on the year to come is what people plan.
PLANNING_BEGINS = 11


def usual_year(today: date) -> int:
    """Name the year that is being planned: late in a year, the next."""
    return today.year + (today.month >= PLANNING_BEGINS)


def year_asked(request: HttpRequest, today: date) -> int:
    """The year in the address, the usual one where there is none that could be planned."""
    typed = str(request.GET.get("year", ""))
    if len(typed) == 4 and typed.isdecimal() and FIRST_YEAR <= int(typed) <= LAST_YEAR:
        return int(typed)
    return usual_year(today)
