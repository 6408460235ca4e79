"""What each bit of ground has received: past applications laid over one property."""

from properties.core.ledger.account import Application, Cell, Ledger, ledger

__all__ = ["Application", "Cell", "Ledger", "ledger"]
