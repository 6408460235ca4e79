"""The pages of a quote: for the office, and for a customer who has only a link."""

import io
import re
from datetime import datetime, timedelta
from typing import Any

import pytest
from django.core import mail
from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from planner.models import (
    Job,
    PriceBook,
    PriceBookVersion,
    Quote,
    QuoteDocument,
    QuoteQuestion,
    QuoteRevision,
)
from planner.selectors.plans import Asked, plan_for, request_for
from planner.services.quotes import revise_quote
from planner.services.sent_quotes import send_quote
from planner.web import customer_pages
from properties.models import Person, Property
from tests.quotes import ADDRESS, ANSWERED_AT


@pytest.fixture(autouse=True)
def _now(monkeypatch: pytest.MonkeyPatch) -> None:
    """The day after the quote was sent, and nothing asked for yet."""
    monkeypatch.setattr(timezone, "now", lambda: ANSWERED_AT)
    cache.clear()


def _page(revision: QuoteRevision, *more: str) -> str:
    return "/".join(["", "q", revision.link, *more, ""])


def _later(monkeypatch: pytest.MonkeyPatch, at: datetime) -> None:
    monkeypatch.setattr(timezone, "now", lambda: at)


ACCEPT = {"letter": "A", "name": "M. Sorrel", "on": "2026-04-09"}


def test_a_customer_reads_the_quote_without_signing_in(client: Client, sent: QuoteRevision) -> None:
    answer = client.get(_page(sent))

    text = answer.content.decode()
    assert answer.status_code == 200
    assert "With the boom we keep at least 25 ft away." in text
    assert "We put up a sign; you take it down after 24 hours." in text
    assert QuoteRevision.objects.get(pk=sent.pk).state == "seen"


def test_a_colleague_who_looks_is_not_the_customer(
    client: Client, sent: QuoteRevision, office: Person
) -> None:
    client.force_login(office)
    client.get(_page(sent))

    assert QuoteRevision.objects.get(pk=sent.pk).state == "sent"


def test_the_page_is_kept_by_no_cache_found_by_no_engine_and_runs_no_script(
    client: Client, sent: QuoteRevision
) -> None:
    answer = client.get(_page(sent))

    assert "no-store" in answer["Cache-Control"]
    assert "noindex" in answer["X-Robots-Tag"]
    policy = answer["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src" not in policy
    assert b"<script" not in answer.content
    assert b'name="robots" content="noindex' in answer.content
    assert answer["Referrer-Policy"] == "same-origin"


def test_neither_cost_nor_margin_is_on_any_page_of_the_customer(
    client: Client, sent: QuoteRevision
) -> None:
    inside = QuoteDocument.objects.get(revision=sent).inside
    costs = {price["cost"] for price in inside.values()} | {
        line["amount"] for price in inside.values() for line in price["make_up"]
    }
    page = client.get(_page(sent)).content.decode()
    paper = client.get(f"/q/{sent.link}/letter.pdf").content
    words = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(paper)).pages)

    for text in (page, words):
        assert "margin" not in text.casefold()
        assert not {cost for cost in costs if float(cost) and f"${cost}" in text}


def test_a_link_that_leads_nowhere_says_so(client: Client, draft: QuoteRevision) -> None:
    for link in ("a" * 43, draft.link):
        answer = client.get(f"/q/{link}/")
        assert answer.status_code == 404
        assert b"leads to no quote" in answer.content
        assert "no-store" in answer["Cache-Control"]


def test_who_tries_links_is_slowed_down(client: Client, db: None) -> None:
    answers = [client.get("/q/wrong/").status_code for _ in range(customer_pages.MOST_WRONG + 1)]

    assert answers[:-1] == [404] * customer_pages.MOST_WRONG
    assert answers[-1] == 429


def test_no_log_holds_a_link(
    client: Client, sent: QuoteRevision, caplog: pytest.LogCaptureFixture
) -> None:
    client.post(_page(sent, "accept"), {})
    client.get(f"/q/{sent.link[:-1]}/")

    assert sent.link[:-1] not in caplog.text


def test_a_link_is_not_answered_without_end(client: Client, sent: QuoteRevision) -> None:
    address = _page(sent, "ask")
    answers = [client.post(address).status_code for _ in range(customer_pages.MOST_ANSWERS + 1)]

    assert answers[-1] == 429
    assert set(answers[:-1]) == {422}


def test_accepting_says_so_for_good_and_makes_the_jobs(
    client: Client, sent: QuoteRevision, place: Property
) -> None:
    done = client.post(_page(sent, "accept"), ACCEPT)
    again = client.post(_page(sent, "accept"), ACCEPT)

    assert [done.status_code, again.status_code] == [302, 302]
    page = client.get(_page(sent)).content.decode()
    assert "M. Sorrel accepted option A, All year, on April 9, 2026" in page
    assert "Nothing more is needed" in page
    assert "Accept this option" not in page
    assert Job.objects.filter(place=place).count() == 3


def test_a_link_used_twice_for_two_options_says_what_holds(
    client: Client, sent: QuoteRevision
) -> None:
    client.post(_page(sent, "accept"), ACCEPT)

    answer = client.post(_page(sent, "accept"), ACCEPT | {"letter": "B"})

    assert answer.status_code == 409
    assert b"was accepted already, and it stays as it was accepted" in answer.content


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"letter": ""}, "letter"), ({"name": " "}, "name"), ({"on": "2026-04-20"}, "on")],
)
def test_what_is_missing_is_said_beside_its_field_and_nothing_typed_is_lost(
    client: Client, sent: QuoteRevision, typed: dict[str, str], field: str
) -> None:
    answer = client.post(_page(sent, "accept"), ACCEPT | typed)

    assert answer.status_code == 422
    assert answer.context["accept_form"].errors[field]
    assert not Job.objects.exists()


def test_an_expired_quote_says_when_it_ran_out_and_takes_a_question(
    client: Client, sent: QuoteRevision, monkeypatch: pytest.MonkeyPatch
) -> None:
    _later(monkeypatch, ANSWERED_AT + timedelta(days=60))

    page = client.get(_page(sent)).content.decode()
    accepted = client.post(_page(sent, "accept"), ACCEPT)

    assert "This quote has run out" in page
    assert "good until May 8, 2026" in page
    assert "Send the question" in page
    assert "Accept this option" not in page
    assert accepted.status_code == 409
    assert b"days of this quote are over" in accepted.content


def test_a_revised_quote_leads_to_the_newer_one_without_giving_its_link_away(
    client: Client, sent: QuoteRevision, owner: Person
) -> None:
    fresh = revise_quote(sent.quote, person=owner, at=ANSWERED_AT)
    send_quote(fresh, person=owner, at=ANSWERED_AT, edition=fresh.edition, address=ADDRESS)

    page = client.get(_page(sent)).content.decode()

    assert "There is a newer version of this quote" in page
    assert fresh.link not in page
    assert "To pay" not in page


def test_a_customer_declines_with_a_reason(client: Client, sent: QuoteRevision) -> None:
    client.post(_page(sent, "decline"), {"no-name": "M. Sorrel", "no-reason": "Too dear."})

    assert QuoteRevision.objects.get(pk=sent.pk).state == "declined"
    assert "M. Sorrel declined this quote" in client.get(_page(sent)).content.decode()


def test_a_question_reaches_the_office_and_its_reply_the_customer(
    client: Client, sent: QuoteRevision, office: Person
) -> None:
    client.post(_page(sent, "ask"), {"ask-name": "M. Sorrel", "ask-words": "<b>When?</b>"})
    question = QuoteQuestion.objects.get()
    desk = Client()
    desk.force_login(office)
    listed = desk.get(reverse("quotes")).content.decode()

    desk.post(
        reverse("reply_to_question", args=[sent.quote_id, question.pk]), {"reply": "In April."}
    )

    page = client.get(_page(sent)).content.decode()
    assert "asked" in listed
    assert "&lt;b&gt;When?&lt;/b&gt;" in page
    assert "In April." in page


def test_bytes_that_were_changed_after_sending_are_not_shown(
    client: Client, sent: QuoteRevision
) -> None:
    document = QuoteDocument.objects.get(revision=sent)
    changed = bytes(document.content).replace(b"25 ft", b"15 ft")
    QuoteDocument.objects.filter(pk=document.pk).update(content=changed, letter=b"%PDF-other")

    page, paper = client.get(_page(sent)), client.get(f"/q/{sent.link}/letter.pdf")

    assert [page.status_code, paper.status_code] == [500, 500]
    assert b"is not what was sent" in page.content
    assert b"15 ft" not in page.content


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_paper_of_the_customer_is_the_one_that_was_frozen(
    client: Client, sent: QuoteRevision, size: str
) -> None:
    answer = client.get(f"/q/{sent.link}/{size}.pdf")

    assert answer["Content-Type"] == "application/pdf"
    assert answer.content == bytes(getattr(sent.document, size))


def test_plan_price_and_paper_agree_to_the_cent(client: Client, sent: QuoteRevision) -> None:
    inside = QuoteDocument.objects.get(revision=sent).inside
    paper = PdfReader(io.BytesIO(bytes(sent.document.letter)))
    text = " ".join(" ".join(page.extract_text() for page in paper.pages).split())
    page = client.get(_page(sent)).content.decode()

    for price in inside.values():
        amounts = [price["total"], *(visit["price"] for visit in price["visits"])]
        amounts += [line["amount"] for line in price["taxes"]]
        for amount in amounts:
            said = f"${float(amount):,.2f}"
            assert said in text
            assert said in page
    area = f"{_treatable_sq_ft(sent):,.0f} sq ft"
    assert area in text
    assert area in page


def _treatable_sq_ft(revision: QuoteRevision) -> float:
    """The area of the plan page for the same place, mix and machine."""
    option = revision.options.get(position=2)
    assert option.machine is not None
    assert option.mix is not None
    person = revision.sent_by
    assert person is not None
    asked = Asked(revision.quote.place, option.machine, option.mix, on=option.from_on)
    plan = plan_for(request_for(person, asked, day=ANSWERED_AT.date()))
    return float(plan["treatable_area"]["value"])


def _typed(quote: Quote, **changed: Any) -> dict[str, Any]:
    option = quote.revisions.get().options.get()
    return {
        "edition": "1",
        "valid_until": "2026-05-08",
        "message": "Thank you for the walk.",
        "title_1": "One visit",
        "mix_1": str(option.mix_id),
        "machine_1": str(option.machine_id),
        "from_on_1": "2026-04-15",
        "to_on_1": "2026-04-30",
    } | changed


def test_the_second_of_two_editors_sees_what_changed_by_whom_beside_what_they_typed(
    client: Client, quote: Quote, owner: Person, office: Person
) -> None:
    other = Client()
    other.force_login(office)
    client.force_login(owner)
    address = reverse("edit_quote", args=[quote.pk])
    other.post(address, _typed(quote, message="From Percy.", title_1="Weeds"))

    answer = client.post(address, _typed(quote, message="From Olive.", valid_until="2026-06-01"))

    text = answer.content.decode()
    assert answer.status_code == 409
    assert "Percy changed this quote" in text
    changes = {change["what"]: change for change in answer.context["changes"]}
    assert changes["Message to the customer"]["after"] == "From Percy."
    assert changes["Message to the customer"]["yours"] == "From Olive."
    # Only Percy changed the title, so it stands in the box; only Olive the last day.
    form = answer.context["form"]
    assert form["title_1"].value() == "Weeds"
    assert form["valid_until"].value() == "2026-06-01"
    assert form["message"].value() == "From Olive."
    assert quote.revisions.get().message == "From Percy."

    merged = {name: form[name].value() or "" for name in form.fields}
    assert client.post(address, merged).status_code == 302
    kept = quote.revisions.get()
    assert (kept.message, kept.options.get().title) == ("From Olive.", "Weeds")
    assert kept.edits.count() == 3


def test_a_new_quote_names_those_that_are_there_already(
    client: Client, quote: Quote, owner: Person
) -> None:
    client.force_login(owner)

    page = client.get(reverse("new_quote", args=[quote.place_id])).content.decode()

    assert f'<a href="{quote.get_absolute_url()}">2026-001</a>' in page


def test_sending_says_whether_mail_went_out(
    client: Client, draft: QuoteRevision, owner: Person, settings: Any
) -> None:
    customer = draft.quote.place.customer
    customer.email = "sorrel@example.com"
    customer.save()
    settings.MAIL_IS_SET_UP = True
    client.force_login(owner)

    answer = client.post(
        reverse("send_quote", args=[draft.quote_id]), {"edition": "1"}, follow=True
    )

    assert "its link went to sorrel@example.com" in answer.content.decode()
    (message,) = mail.outbox
    links = re.findall(r"http://testserver/q/[\w-]{43}/", str(message.body))
    assert links == [f"http://testserver/q/{draft.link}/"]


def test_without_mail_the_link_is_there_to_copy(
    client: Client, draft: QuoteRevision, owner: Person
) -> None:
    client.force_login(owner)

    answer = client.post(
        reverse("send_quote", args=[draft.quote_id]), {"edition": "1"}, follow=True
    )

    assert "No e-mail went out" in answer.content.decode()
    assert f"/q/{draft.link}/" in answer.content.decode()
    assert mail.outbox == []


def test_a_quote_that_cannot_be_priced_says_what_is_missing_and_is_not_sent(
    client: Client, quote: Quote, owner: Person
) -> None:
    client.force_login(owner)

    page = client.get(quote.get_absolute_url()).content.decode()
    answer = client.post(reverse("send_quote", args=[quote.pk]), {"edition": "1"})

    assert "There is no price book yet" in page
    assert answer.status_code == 422
    assert quote.revisions.get().state == "draft"


def test_an_answer_on_paper_is_written_down_by_the_office(
    client: Client, sent: QuoteRevision, office: Person
) -> None:
    client.force_login(office)
    address = reverse("take_answer", args=[sent.quote_id])

    client.post(address, {"letter": "B", "name": "M. Sorrel", "on": "2026-04-09"})

    answer = QuoteRevision.objects.get(pk=sent.pk).answer
    assert (answer.kind, answer.taken_by) == ("accepted", office)
    assert Job.objects.count() == 1


def test_the_revisions_tell_what_differs(
    client: Client, sent: QuoteRevision, owner: Person
) -> None:
    fresh = revise_quote(sent.quote, person=owner, at=ANSWERED_AT)
    fresh.options.filter(position=2).delete()
    send_quote(fresh, person=owner, at=ANSWERED_AT, edition=fresh.edition, address=ADDRESS)
    client.force_login(owner)

    page = client.get(reverse("quote_history", args=[sent.quote_id])).content.decode()

    assert "What differs from revision 1" in page
    assert "One visit: to pay" in page
    assert sent.document.content_sha256 in page


def test_only_the_owner_sees_the_margin(
    client: Client, sent: QuoteRevision, owner: Person, office: Person
) -> None:
    address = reverse("quote_margin", args=[sent.quote_id])
    client.force_login(office)
    assert client.get(address).status_code == 403
    assert "margin/" not in client.get(sent.quote.get_absolute_url()).content.decode()
    client.force_login(owner)

    page = client.get(f"{address}?option=B").content.decode()

    assert "Margin" in page
    assert "B. One visit" in page


def test_what_the_price_leaves_is_told_to_the_owner_alone(
    client: Client, draft: QuoteRevision, owner: Person, office: Person, price_book: PriceBook
) -> None:
    version = price_book.versions.get()
    version.terms |= {"margin_percent": "99"}
    PriceBookVersion.objects.filter(pk=version.pk).update(terms=version.terms)
    pages = {}
    for person in (owner, office):
        client.force_login(person)
        pages[person] = client.get(draft.quote.get_absolute_url()).content.decode()

    assert "The margin is" in pages[owner]
    assert "margin is" not in pages[office]


@pytest.mark.parametrize(
    "name", ["send_quote", "revise_quote", "take_answer", "quote_margin", "quote_history"]
)
def test_a_strangers_quote_does_not_exist(
    client: Client, sent: QuoteRevision, stranger: Person, name: str
) -> None:
    client.force_login(stranger)
    address = reverse(name, args=[sent.quote_id])
    posted = name in {"send_quote", "revise_quote"}

    assert (client.post(address) if posted else client.get(address)).status_code == 404
    assert client.get(reverse("quote_paper", args=[sent.pk, "letter"])).status_code == 404


@pytest.mark.parametrize("name", ["send_quote", "revise_quote", "take_answer"])
def test_the_crew_sells_nothing(
    client: Client, sent: QuoteRevision, crew: Person, name: str
) -> None:
    client.force_login(crew)
    address = reverse(name, args=[sent.quote_id])
    posted = name != "take_answer"

    assert (client.post(address) if posted else client.get(address)).status_code == 403


def test_the_list_is_narrowed_by_state_and_name(
    client: Client, sent: QuoteRevision, owner: Person
) -> None:
    client.force_login(owner)

    def numbers(**asked: str) -> int:
        return len(client.get(reverse("quotes"), asked).context["rows"])

    assert numbers() == numbers(state="sent") == numbers(q="sorrel") == 1
    assert numbers(state="accepted") == numbers(q="burdock") == 0
