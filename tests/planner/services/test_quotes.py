"""A quote is written by several, frozen when it is sent, answered once, and stays."""

import json
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from planner.models import (
    Job,
    Machine,
    Mix,
    PriceBook,
    Product,
    Programme,
    Quote,
    QuoteAnswer,
    QuoteRevision,
)
from planner.selectors.quote_contents import drafted
from planner.selectors.quotes import (
    OptionFacts,
    QuoteFacts,
    facts_of,
    revision_by_link,
    state_of,
)
from planner.services.programmes import keep_programme
from planner.services.quote_answers import (
    Signed,
    accept_quote,
    ask_about_quote,
    decline_quote,
    reply_to,
)
from planner.services.quotes import EditedMeanwhile, begin_quote, edit_quote, revise_quote
from planner.services.sent_quotes import note_seen, send_quote, sha256_of
from properties.core.errors import FaultsFound, Refused
from properties.models import Person, Property
from properties.services.outlines import save_drawing
from tests.places import small_lot
from tests.quotes import ADDRESS, ANSWERED_AT, BEGUN_AT, SENT_AT, VALID_UNTIL, single_visit

SIGNED = Signed("M. Sorrel", ANSWERED_AT.date(), ANSWERED_AT)


def _sent_again(revision: QuoteRevision, person: Person) -> QuoteRevision:
    fresh = revise_quote(revision.quote, person=person, at=ANSWERED_AT)
    return send_quote(fresh, person=person, at=ANSWERED_AT, edition=fresh.edition, address=ADDRESS)


def test_quotes_are_numbered_in_the_year_of_their_season(
    place: Property, owner: Person, mix: Mix, machine: Machine
) -> None:
    facts = QuoteFacts(VALID_UNTIL, "", (single_visit(mix, machine),))

    numbers = [
        str(begin_quote(place, person=owner, at=BEGUN_AT, year=year, facts=facts).quote)
        for year in (2026, 2026, 2027)
    ]

    assert numbers == ["2026-001", "2026-002", "2027-001"]


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"machine": None}, "machine_1"),
        ({"from_on": None}, "from_on_1"),
        ({"to_on": date(2026, 4, 1)}, "to_on_1"),
        ({"mix": None}, "mix_1"),
    ],
)
def test_a_single_visit_says_with_what_and_when(
    place: Property,
    owner: Person,
    mix: Mix,
    machine: Machine,
    changed: dict[str, object],
    field: str,
) -> None:
    option = replace(single_visit(mix, machine), **changed)  # type: ignore[arg-type]

    with pytest.raises(Refused) as refused:
        begin_quote(
            place,
            person=owner,
            at=BEGUN_AT,
            year=2026,
            facts=QuoteFacts(VALID_UNTIL, "", (option,)),
        )

    assert refused.value.field == field


def test_an_option_is_a_programme_or_a_visit_and_never_both(
    place: Property, owner: Person, mix: Mix, machine: Machine, programme: Programme
) -> None:
    both = replace(single_visit(mix, machine), programme=programme)

    with pytest.raises(Refused, match="at once"):
        begin_quote(
            place, person=owner, at=BEGUN_AT, year=2026, facts=QuoteFacts(VALID_UNTIL, "", (both,))
        )


def test_a_strangers_programme_is_no_option(
    place: Property, owner: Person, stranger: Person
) -> None:
    theirs = Programme.objects.create(firm=stranger.firm, name="Theirs")

    with pytest.raises(Refused, match="not of your firm"):
        begin_quote(
            place,
            person=owner,
            at=BEGUN_AT,
            year=2026,
            facts=QuoteFacts(VALID_UNTIL, "", (OptionFacts(programme=theirs),)),
        )


def test_the_second_of_two_who_edit_is_told_and_writes_over_nothing(
    draft: QuoteRevision, owner: Person, office: Person
) -> None:
    facts = facts_of(draft)
    edit_quote(
        draft, person=office, at=SENT_AT, edition=1, facts=replace(facts, message="From Percy.")
    )

    with pytest.raises(EditedMeanwhile, match="Percy changed this quote") as meanwhile:
        edit_quote(
            draft, person=owner, at=SENT_AT, edition=1, facts=replace(facts, message="From Olive.")
        )

    assert facts_of(QuoteRevision.objects.get(pk=draft.pk)).message == "From Percy."
    assert meanwhile.value.revision.edition == 2
    assert [edit.told["message"] for edit in draft.edits.order_by("edition")] == [
        "Thank you for the walk.",
        "From Percy.",
    ]


def test_what_somebody_changed_meanwhile_is_not_sent_unseen(
    draft: QuoteRevision, owner: Person, office: Person
) -> None:
    edit_quote(draft, person=office, at=SENT_AT, edition=1, facts=facts_of(draft))

    with pytest.raises(EditedMeanwhile):
        send_quote(draft, person=owner, at=SENT_AT, edition=1, address=ADDRESS)

    assert QuoteRevision.objects.get(pk=draft.pk).sent_at is None


def test_a_draft_has_no_link_that_works(draft: QuoteRevision) -> None:
    assert revision_by_link(draft.link) is None


def test_what_was_sent_is_kept_in_bytes_under_their_hashes(sent: QuoteRevision) -> None:
    document = sent.document

    for name in ("content", "letter", "a4"):
        kept = bytes(getattr(document, name))
        assert kept
        assert sha256_of(kept) == getattr(document, f"{name}_sha256")
    assert bytes(document.letter).startswith(b"%PDF")


def test_prices_of_the_content_are_those_of_the_price_book_to_the_cent(
    draft: QuoteRevision, owner: Person
) -> None:
    now = drafted(owner, draft, at=SENT_AT)

    for told, one in zip(now.content["options"], now.options, strict=True):
        price = one.priced.price
        assert told["total"] == f"{price.total.amount:.2f}"
        assert [Decimal(visit["amount"]) for visit in told["visits"]] == [
            visit.price for visit in price.visits
        ]
        assert told["net"] == f"{price.net.amount:.2f}"


def test_costs_and_margin_are_nowhere_in_what_the_customer_reads(
    sent: QuoteRevision,
) -> None:
    content = bytes(sent.document.content).decode()
    inside = sent.document.inside

    assert "margin" not in content.casefold()
    assert "cost" not in content.casefold()
    kept_inside = [
        line["amount"]
        for price in inside.values()
        for line in [*price["make_up"], *(c for visit in price["visits"] for c in visit["costs"])]
        if Decimal(line["amount"])
    ]
    assert kept_inside
    shown = {
        amount
        for option in json.loads(content)["options"]
        for amount in [option["net"], option["total"], *(v["amount"] for v in option["visits"])]
    }
    assert [
        amount for amount in kept_inside if amount not in shown and f'"{amount}"' in content
    ] == []


def test_later_edits_of_shape_price_and_label_leave_what_was_accepted_as_it_was(
    accepted: QuoteAnswer, owner: Person, place: Property, product: Product
) -> None:
    before = QuoteRevision.objects.get(pk=accepted.revision_id).document
    content, letter = bytes(before.content), bytes(before.letter)
    lot = small_lot()
    lot["features"] = lot["features"][:1]
    save_drawing(place, person=owner, at=ANSWERED_AT, base=1, why="Smaller", collection=lot)
    Product.objects.filter(pk=product.pk).update(name="Another name")

    after = QuoteRevision.objects.get(pk=accepted.revision_id).document
    record = json.loads(bytes(accepted.record))

    assert (bytes(after.content), bytes(after.letter)) == (content, letter)
    assert record["content_sha256"] == sha256_of(content)
    assert record["letter_sha256"] == sha256_of(letter)
    assert accepted.record_sha256 == sha256_of(bytes(accepted.record))


def test_accepting_a_programme_makes_a_job_of_each_visit_at_its_price(
    accepted: QuoteAnswer, place: Property
) -> None:
    told = json.loads(bytes(accepted.revision.document.content))["options"][0]["visits"]

    jobs = list(Job.objects.filter(place=place))

    assert [(job.name, str(job.price)) for job in jobs] == [
        (visit["name"], visit["amount"]) for visit in told
    ]
    assert {job.quote_option_id for job in jobs} == {accepted.option_id}
    assert {job.state for job in jobs} == {"planned"}


def test_a_second_press_of_the_button_makes_nothing_twice(accepted: QuoteAnswer) -> None:
    jobs = set(Job.objects.values_list("pk", flat=True))

    again = accept_quote(accepted.revision, letter="A", signed=SIGNED)

    assert again == accepted
    assert set(Job.objects.values_list("pk", flat=True)) == jobs


def test_another_option_cannot_be_accepted_afterwards(accepted: QuoteAnswer) -> None:
    with pytest.raises(Refused, match="was accepted already"):
        accept_quote(accepted.revision, letter="B", signed=SIGNED)

    assert QuoteAnswer.objects.get() == accepted
    assert Job.objects.count() == 3


def test_the_jobs_are_those_that_were_offered_whatever_the_programme_says_since(
    sent: QuoteRevision, programme: Programme, place: Property
) -> None:
    spring, summer, autumn = programme.rounds.all()
    summer.from_day, summer.to_day = "07-01", "07-20"
    keep_programme(programme, rounds=[spring, summer])

    accept_quote(sent, letter="A", signed=SIGNED)

    jobs = {job.name: job for job in Job.objects.filter(place=place)}
    assert jobs["Summer"].from_on == date(2026, 6, 10)
    assert jobs["Autumn"].from_on == date(2026, 9, 15)
    assert autumn.name == "Autumn"


def test_a_single_visit_becomes_one_job_in_its_days(sent: QuoteRevision) -> None:
    accept_quote(sent, letter="B", signed=SIGNED)

    job = Job.objects.get()
    assert (job.from_on, job.to_on) == (date(2026, 4, 15), date(2026, 4, 30))
    assert job.round is None


def test_nothing_is_kept_of_an_answer_whose_jobs_cannot_be_made(
    sent: QuoteRevision, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("no jobs today")

    monkeypatch.setattr("planner.services.quote_answers.make_quoted_jobs", broken)

    with pytest.raises(RuntimeError):
        accept_quote(sent, letter="A", signed=SIGNED)

    assert not QuoteAnswer.objects.exists()
    assert QuoteRevision.objects.get(pk=sent.pk).state == "sent"


def test_a_quote_that_ran_out_cannot_be_accepted(sent: QuoteRevision) -> None:
    # The last minute of May 8 in Chicago, and the next.
    last = SENT_AT.replace(month=5, day=9, hour=4, minute=59)
    assert state_of(sent, at=last) == "sent"
    late = last + timedelta(minutes=1)

    with pytest.raises(Refused, match="days of this quote are over"):
        accept_quote(sent, letter="A", signed=replace(SIGNED, at=late))

    assert not Job.objects.exists()


def test_a_newer_revision_closes_the_one_before_it(sent: QuoteRevision, owner: Person) -> None:
    fresh = _sent_again(sent, owner)

    with pytest.raises(Refused, match="newer version"):
        accept_quote(sent, letter="A", signed=SIGNED)

    assert (fresh.number, fresh.state) == (2, "sent")
    assert fresh.link != sent.link


def test_while_a_revision_is_a_draft_the_one_before_it_can_be_accepted(
    sent: QuoteRevision, owner: Person
) -> None:
    fresh = revise_quote(sent.quote, person=owner, at=ANSWERED_AT)
    accept_quote(sent, letter="A", signed=SIGNED)

    with pytest.raises(Refused, match="was accepted meanwhile"):
        send_quote(fresh, person=owner, at=ANSWERED_AT, edition=fresh.edition, address=ADDRESS)


def test_what_was_accepted_is_not_revised(accepted: QuoteAnswer, owner: Person) -> None:
    with pytest.raises(Refused, match="was accepted, and it stays"):
        revise_quote(accepted.revision.quote, person=owner, at=ANSWERED_AT)


def test_revising_twice_gives_one_draft(sent: QuoteRevision, owner: Person) -> None:
    first = revise_quote(sent.quote, person=owner, at=ANSWERED_AT)

    assert revise_quote(sent.quote, person=owner, at=ANSWERED_AT) == first


def test_a_sent_revision_is_not_edited(sent: QuoteRevision, owner: Person) -> None:
    with pytest.raises(Refused, match="stays as it is"):
        edit_quote(sent, person=owner, at=ANSWERED_AT, edition=1, facts=facts_of(sent))


def test_declining_keeps_the_reason_and_makes_no_job(sent: QuoteRevision) -> None:
    answer = decline_quote(sent, reason="Too dear.", signed=SIGNED)
    again = decline_quote(sent, reason="Still.", signed=SIGNED)

    assert again == answer
    assert QuoteRevision.objects.get(pk=sent.pk).state == "declined"
    assert answer.reason == "Too dear."
    with pytest.raises(Refused, match="was declined"):
        accept_quote(sent, letter="A", signed=SIGNED)
    assert not Job.objects.exists()


@pytest.mark.parametrize("day", [date(2026, 4, 7), date(2026, 4, 10)])
def test_nobody_answers_before_it_was_sent_or_tomorrow(sent: QuoteRevision, day: date) -> None:
    with pytest.raises(Refused) as refused:
        accept_quote(sent, letter="A", signed=replace(SIGNED, on=day))

    assert refused.value.field == "on"


def test_it_is_seen_once(sent: QuoteRevision) -> None:
    note_seen(sent, at=ANSWERED_AT)
    note_seen(sent, at=ANSWERED_AT + timedelta(days=1))

    seen = QuoteRevision.objects.get(pk=sent.pk)
    assert (seen.state, seen.seen_at) == ("seen", ANSWERED_AT)


def test_a_question_is_asked_and_replied_to(sent: QuoteRevision, office: Person) -> None:
    question = ask_about_quote(sent, name="M. Sorrel", words="When?", at=ANSWERED_AT)

    reply_to(question, reply="In spring.", person=office, at=ANSWERED_AT)

    question.refresh_from_db()
    assert (question.reply, question.replied_by) == ("In spring.", office)
    with pytest.raises(Refused):
        reply_to(question, reply=" ", person=office, at=ANSWERED_AT)


def test_a_quote_over_a_limit_of_the_label_is_not_sent(
    draft: QuoteRevision, owner: Person, product: Product
) -> None:
    Product.objects.filter(pk=product.pk).update(rate_max="0.7 fl oz/1000 sq ft")

    with pytest.raises(FaultsFound, match="more than the label allows"):
        send_quote(draft, person=owner, at=SENT_AT, edition=draft.edition, address=ADDRESS)

    assert QuoteRevision.objects.get(pk=draft.pk).state == "draft"


def test_a_single_visit_that_the_label_forbids_is_not_sent(
    quote: Quote, priced: PriceBook, owner: Person, product: Product
) -> None:
    Product.objects.filter(pk=product.pk).update(rate_max="0.7 fl oz/1000 sq ft")

    with pytest.raises(Refused, match=r"One visit: .* more than the label allows"):
        send_quote(quote.revisions.get(), person=owner, at=SENT_AT, edition=1, address=ADDRESS)


def test_a_round_that_the_year_has_no_room_for_is_left_out_and_told(
    draft: QuoteRevision, owner: Person, product: Product
) -> None:
    Product.objects.filter(pk=product.pk).update(per_year="1.7 fl oz/1000 sq ft")

    now = drafted(owner, draft, at=SENT_AT)

    assert [visit["name"] for visit in now.content["options"][0]["visits"]] == ["Spring", "Summer"]
    assert any("Autumn must not be done and is left out" in words for words in now.cautions)


def test_rounds_that_are_over_are_not_offered(draft: QuoteRevision, owner: Person) -> None:
    now = drafted(owner, draft, at=SENT_AT.replace(month=7))

    assert [visit["name"] for visit in now.content["options"][0]["visits"]] == ["Autumn"]


def test_a_quote_is_in_the_units_of_the_firm_whoever_writes_it(
    draft: QuoteRevision, owner: Person, office: Person
) -> None:
    office.units = "metric"

    theirs, ours = (drafted(person, draft, at=SENT_AT).content for person in (office, owner))

    assert theirs["area"] == ours["area"]
    assert theirs["promises"] == ours["promises"]
