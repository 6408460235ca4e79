"""The annual limit lives in a place: Larkfoot Commons, entered, planned and asked on the pages."""

import json
import re
from datetime import timedelta
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import KeptPlan, Machine, PastApplication, Product
from properties.models import Person, Property
from tests.planner.core.asking import lonlat
from tests.planner.core.scenarios import LARKFOOT, at_rate
from tests.planner.larkfoot import commons, mix_at, past, plain_boom, w4

__all__ = ["commons", "past", "plain_boom", "w4"]

FT_M = 0.3048


def spot(x_ft: float, y_ft: float) -> dict[str, str]:
    lon, lat = lonlat(x_ft * FT_M, y_ft * FT_M)
    return {"lon": f"{lon:.8f}", "lat": f"{lat:.8f}"}


@pytest.fixture
def asked(
    client: Client, owner: Person, commons: Property, plain_boom: Machine, w4: Product
) -> Any:
    """Plan the commons at a rate, on the page."""
    client.force_login(owner)

    def ask(rate: float, **more: str) -> Any:
        question = {"machine": plain_boom.pk, "mix": mix_at(w4, rate).pk} | more
        return client.get(reverse("plan", args=[commons.pk]), question)

    return ask


def days_ago(days: int) -> Any:
    return timezone.now().date() - timedelta(days=days)


@pytest.mark.usefixtures("past")
def test_the_rate_that_would_pass_the_year_of_the_front_is_refused_on_the_page(asked: Any) -> None:
    page = asked(1.2)

    (refusal,) = page.context["refusals"]
    assert refusal["code"] == "rate_above_room"
    assert "Front (turf) may get 1 fl oz/1000 sq ft more at most" in refusal["message"]
    assert "Do not spray this plan" in page.content.decode()


@pytest.mark.usefixtures("past")
def test_the_rate_that_holds_everywhere_is_planned_without_the_patch(asked: Any) -> None:
    page = asked(1.0)

    plan, text = page.context["plan"], page.content.decode()
    assert plan["refusals"] == []
    # Areas of the placed shapes are within 0.2 % of the flat ones.
    assert plan["treatable_area"]["value"] == pytest.approx(15_350, rel=2e-3)
    assert plan["closed_area"]["value"] == pytest.approx(500, rel=2e-3)
    (product,) = plan["products"]
    # A jug with 1 fl oz marks shows 15, and 16 would give 1.042.
    assert product["amount_to_measure"]["value"] == 15
    assert "closed on the day" in text
    assert "Ground left out on the day" in text
    rows = {face["name"]: face for face in page.context["limits"][0]["faces"]}
    assert rows["Front"]["room"]["value"] == pytest.approx(1.0)
    assert rows["Front"]["room_after"]["value"] == pytest.approx(0.023, abs=5e-4)
    assert rows["Back"]["room"]["value"] == pytest.approx(2.2)
    assert rows["Back, Patch"]["open_on"] == days_ago(-2)


@pytest.mark.usefixtures("past")
def test_two_days_later_the_patch_is_planned_too(asked: Any) -> None:
    page = asked(1.0, on=days_ago(-2).isoformat())

    assert page.context["plan"]["closed_area"]["value"] == 0
    assert page.context["plan"]["treatable_area"]["value"] == pytest.approx(15_850, rel=2e-3)
    assert " · for " in page.content.decode()


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "2026-02-29"])
def test_a_day_that_cannot_be_right_is_refused_beside_its_field(asked: Any, day: str) -> None:
    page = asked(1.0, on=day)

    assert page.status_code == 422
    assert "on" in page.context["form"].errors


@pytest.mark.usefixtures("past")
def test_the_page_and_the_command_agree_to_the_last_digit(
    asked: Any, client: Client, commons: Property, tmp_path: Path
) -> None:
    page = asked(1.0)
    question = page.wsgi_request.GET.urlencode()
    file = client.get(f"{reverse('export_request', args=[commons.pk])}?{question}")
    (tmp_path / "request.json").write_bytes(file.content)
    printed = StringIO()

    call_command("plan", str(tmp_path / "request.json"), stdout=printed)

    assert json.loads(printed.getvalue()) == page.context["plan"]
    assert len(json.loads(file.content)["history"]) == 3


def test_the_scenario_passes_through_the_command(tmp_path: Path) -> None:
    path = tmp_path / "request.json"
    path.write_text(json.dumps(at_rate(LARKFOOT, "1.0 fl oz/1000 sq ft")), encoding="utf-8")
    printed = StringIO()

    call_command("plan", str(path), stdout=printed)

    plan = json.loads(printed.getvalue())
    assert plan["products"][0]["amount_to_measure"] == {"value": 15.0, "unit": "fl oz"}
    path.write_text(json.dumps(LARKFOOT), encoding="utf-8")
    with pytest.raises(SystemExit) as refused:
        call_command("plan", str(path), stdout=StringIO())
    assert refused.value.code == 3


@pytest.mark.usefixtures("past")
@pytest.mark.parametrize(
    ("where", "room", "closed"),
    [
        pytest.param(spot(50, 30), "1", False, id="front"),
        pytest.param(spot(10, 110), "2.2", False, id="rest of the back"),
        pytest.param(spot(50, 150), "1", True, id="patch"),
        pytest.param({"lawn": "front"}, "1", False, id="front by its name"),
        pytest.param(
            spot(50, 150) | {"lawn": "front"}, "1", False, id="front after a tap on the patch"
        ),
    ],
)
def test_any_spot_can_be_asked_what_it_may_still_get(
    client: Client,
    crew: Person,
    commons: Property,
    where: dict[str, str],
    room: str,
    closed: bool,
) -> None:
    client.force_login(crew)

    page = client.get(reverse("ground", args=[commons.pk]), where)

    (piece,) = page.context["answers"]
    (verdict,) = piece["verdicts"]
    assert verdict["open"] is not closed
    text = page.content.decode()
    assert f"<strong>{room} fl oz/1,000 sq ft</strong> of 3.4 fl oz/1,000 sq ft" in text
    if closed:
        assert verdict["open_on"] == days_ago(-2)
        assert "28 days since" in text


@pytest.mark.usefixtures("past")
def test_a_lawn_with_two_pasts_is_answered_part_by_part(
    client: Client, owner: Person, commons: Property
) -> None:
    client.force_login(owner)

    page = client.get(reverse("ground", args=[commons.pk]), {"lawn": "back"})

    areas = sorted(round(piece["area"]["value"]) for piece in page.context["answers"])
    assert areas == [500, 9150]


@pytest.mark.usefixtures("past")
def test_another_day_can_be_asked_about(client: Client, owner: Person, commons: Property) -> None:
    client.force_login(owner)
    then = spot(50, 150) | {"on": days_ago(-2).isoformat()}

    page = client.get(reverse("ground", args=[commons.pk]), then)

    assert page.context["answers"][0]["verdicts"][0]["open"]


@pytest.mark.usefixtures("past")
def test_a_spot_beside_the_turf_is_called_so(
    client: Client, owner: Person, commons: Property
) -> None:
    client.force_login(owner)

    page = client.get(reverse("ground", args=[commons.pk]), spot(50, 80))

    assert "There is no turf on this spot" in page.content.decode()


def test_a_past_that_nobody_entered_is_not_an_empty_one(
    asked: Any, client: Client, commons: Property
) -> None:
    page = asked(1.0)

    assert "Past of this place not known" in page.content.decode()
    ground = client.get(reverse("ground", args=[commons.pk]), {"lawn": "front"}).content.decode()
    assert "What this place has had is not known here" in ground


def test_what_was_sprayed_by_plan_counts_against_the_next(
    asked: Any, client: Client, commons: Property, w4: Product
) -> None:
    page = asked(1.0)
    keep = f"{reverse('keep_plan', args=[commons.pk])}?{page.wsgi_request.GET.urlencode()}"
    client.post(keep)
    kept = KeptPlan.objects.get()
    sprayed = reverse("plan_sprayed", args=[kept.pk])
    form = client.get(sprayed).content.decode()
    rate = re.search(r'name="rate_1_0" value="([^"]+)"', form)
    assert rate is not None

    answer = client.post(
        sprayed,
        {
            "applied_on": days_ago(0).isoformat(),
            "rate_1_0": rate[1],
            "rate_1_1": "fl oz/1000 sq ft",
            "note": "",
        },
    )

    assert answer["Location"] == reverse("ground", args=[commons.pk])
    (row,) = PastApplication.objects.all()
    assert (row.product, row.kept_plan, row.how_known) == (w4, kept, "plan")
    # 15.85 thousand sq ft need 15.85 fl oz, and the jug shows 16.
    assert row.rate.si == pytest.approx(
        kept.plan["products"][0]["rate_after_rounding"]["value"] * row.rate.si / row.rate.value,
        rel=1e-4,
    )
    assert [refusal["code"] for refusal in asked(0.9).context["refusals"]] == ["nothing_open"]
