"""What a plan tells of its labels, in words."""

import pytest

from planner.web.label_sheet import label_sheet


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("us", "85 °F"),
        # (85 − 32) / 1.8 = 29.44: NIST Special Publication 811, appendix B.8.
        ("metric", "85 °F (29.44 °C)"),
    ],
)
def test_a_temperature_of_a_label_is_told_on_the_readers_scale_too(units: str, said: str) -> None:
    facts = {"name": "Invented herbicide", "temperature_max": {"value": 85.0, "unit": "deg F"}}

    sheet = label_sheet({"units": units, "label_facts": [facts]})

    assert sheet == [("Invented herbicide", [("Not hotter than", said)])]
