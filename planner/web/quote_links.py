"""Where a quote’s secret link leads, and the message that carries it."""

from django.conf import settings
from django.core.mail import EmailMessage
from django.http import HttpRequest
from django.urls import reverse

from planner.models import QuoteRevision

_NOBODY = "x"


def link_base(request: HttpRequest) -> str:
    """Give the address of every customer page up to the secret part."""
    whole = request.build_absolute_uri(reverse("customer_quote", args=[_NOBODY]))
    return whole.removesuffix(f"{_NOBODY}/")


def link_of(request: HttpRequest, revision: QuoteRevision) -> str:
    """Give the address of the customer page of a revision."""
    return f"{link_base(request)}{revision.link}/"


def mail_link(request: HttpRequest, revision: QuoteRevision) -> bool:
    """Send the link to the customer. False where there is no address, or no mail is set up."""
    quote = revision.quote
    to = quote.place.customer.email
    if not (to and settings.MAIL_IS_SET_UP):
        return False
    words = (
        f"Dear {quote.place.customer.name},\n\n"
        f"here is our quote {quote} for {quote.place.address}:\n\n"
        f"{link_of(request, revision)}\n\n"
        "It is your own page: whoever has the address can read and answer it.\n"
        f"It is good until {revision.valid_until:%Y-%m-%d}.\n\n"
        f"{request.user}, {quote.firm.name}\n"
    )
    message = EmailMessage(
        f"Quote {quote} of {quote.firm.name}",
        words,
        to=[to],
        reply_to=[quote.firm.email] if quote.firm.email else None,
    )
    return bool(message.send())
