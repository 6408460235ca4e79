"""The association of the demo: five lots from a list, quoted together. All of it is invented."""

from datetime import date, datetime

from planner.management.scenario.scene import FOLDER
from planner.models import Portfolio
from planner.selectors.portfolios import PortfolioAsked, portfolios_of
from planner.selectors.programmes import offered_to
from planner.services.portfolio_quotes import ask_portfolio_quote, quote_portfolio
from planner.services.portfolios import PortfolioFacts, begin_portfolio, keep_portfolio
from properties.core.sheets.columns import Columns, guessed_facts
from properties.core.sheets.numbers import Decimals
from properties.core.sheets.rows import headings_of
from properties.models import Person
from properties.selectors.imports import columns_of, preview_of, spreadsheets_of, table_of
from properties.selectors.places import properties_of
from properties.services.imports import Choice, import_now
from properties.services.spreadsheets import ForAll, bring_spreadsheet, confirm_columns

LIST = "lots.csv"
NAME = "Millrace Court"
COMMON = "Millrace Court green"
SEASON = 2027
BY_AREA = "area"


def write_association(owner: Person, *, at: datetime) -> None:
    """Import the list of the association and quote its season, once."""
    if not spreadsheets_of(owner).filter(file_name=LIST).exists():
        _import(owner, at)
    if not portfolios_of(owner).filter(name=NAME).exists():
        _quote(owner, _portfolio(owner, at), at)


def _import(owner: Person, at: datetime) -> None:
    """Bring the list in as a person does: read, columns, preview, import."""
    content = (FOLDER / LIST).read_bytes()
    sheet = bring_spreadsheet(person=owner, file_name=LIST, content=content, at=at)
    facts = guessed_facts(headings_of(table_of(sheet), 1))
    columns = Columns(1, facts, Decimals.POINT, "sq ft", "", position_for_all=False)
    sheet = confirm_columns(sheet, columns, ForAll(None, None, "America/Chicago"))
    confirmed = columns_of(sheet)
    if confirmed is not None:
        seen = preview_of(sheet, confirmed).seen
        import_now(sheet, person=owner, choice=Choice(seen), at=at)


def _portfolio(owner: Person, at: datetime) -> Portfolio:
    green = properties_of(owner).get(name=COMMON)
    begun = begin_portfolio(
        person=owner, name=NAME, customer=green.customer, sharing=BY_AREA, at=at
    )
    told = PortfolioFacts(NAME, BY_AREA, commons=frozenset({green.pk}))
    return keep_portfolio(begun, told, person=owner, edition=begun.edition, at=at)


def _quote(owner: Person, portfolio: Portfolio, at: datetime) -> None:
    """Quote the first programme, at once: the demo waits for no worker."""
    programme = offered_to(owner).first()
    if programme is not None:
        asked = PortfolioAsked(programme, SEASON, date(SEASON, 1, 1))
        errand = ask_portfolio_quote(portfolio, asked, person=owner, at=at)
        quote_portfolio.call(errand.pk)
