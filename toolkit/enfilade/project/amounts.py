"""Amounts of money as people read them: one way of writing for forms, checks and documents."""

from __future__ import annotations

from decimal import Decimal

__all__ = ["money_words"]


def money_words(amount: Decimal | None, currency: str = "") -> str:
    """Write an amount for reading: whole amounts without cents, thousands apart; empty when there is none.

    Args:
        amount: As it is recorded, to the cent.
        currency: Set before it, held together by a space that does not break; none when empty.

    >>> money_words(Decimal("18240.00"), "EUR")
    'EUR\\xa018,240'
    >>> money_words(Decimal("9200.50"))
    '9,200.50'
    >>> money_words(None, "EUR")
    ''
    """
    if amount is None:
        return ""
    digits = f"{amount:,.2f}".removesuffix(".00")
    return f"{currency}\u00a0{digits}" if currency else digits
