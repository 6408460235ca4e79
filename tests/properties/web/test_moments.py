"""How a moment is written: in the time of the place, never without its zone."""

from datetime import UTC, datetime

import pytest

from properties.templatetags.moments import moment


@pytest.mark.parametrize(
    ("utc", "zone", "written"),
    [
        # Clocks go back at 2:00 on 1 November 2026 and forward on 8 March, by 15 U.S.C. § 260a.
        ((2026, 11, 1, 6, 30), "America/Chicago", "Nov 1, 2026, 01:30 CDT"),
        ((2026, 11, 1, 7, 30), "America/Chicago", "Nov 1, 2026, 01:30 CST"),
        ((2026, 3, 8, 7, 59), "America/Chicago", "Mar 8, 2026, 01:59 CST"),
        ((2026, 3, 8, 8, 0), "America/Chicago", "Mar 8, 2026, 03:00 CDT"),
        ((2026, 7, 1, 3, 0), "America/Phoenix", "Jun 30, 2026, 20:00 MST"),
        ((2026, 7, 1, 3, 0), "America/Sao_Paulo", "Jul 1, 2026, 00:00 UTC-03"),
        ((2026, 7, 1, 3, 0), "UTC", "Jul 1, 2026, 03:00 UTC"),
    ],
)
def test_a_moment_is_told_in_the_time_of_the_place(
    utc: tuple[int, int, int, int, int], zone: str, written: str
) -> None:
    assert moment(datetime(*utc, tzinfo=UTC), zone) == written
