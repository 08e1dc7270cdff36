"""Amounts of money: read as a smith writes them, rounded to the coin, written.

A price may be finer than the coin ("0.2755" for a kWh); what is charged is rounded half up to the
smallest coin of the currency, line by line, and sums are sums of rounded lines, so that what is
shown always adds up.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

import msgspec

from forgelog.units import ReadError, tidy

NO_COINS = frozenset(
    (
        *("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF"),
        *("UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF"),
    )
)
"""Currencies whose smallest unit is the whole one. Source: ISO 4217 list one (from memory)."""
THOUSANDTHS = frozenset(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"))
"""Currencies divided into thousandths. Source: ISO 4217 list one (from memory)."""
TEN_THOUSANDTHS = frozenset(("CLF", "UYW"))
"""Units of account with four decimals. Source: ISO 4217 list one (from memory)."""

MOST = Decimal(10) ** 9
"""An amount of more than this is a slip of the finger."""
FINEST = 6
"""Decimals that a price may have."""
LONGEST_TEXT = 40

_MONEY = re.compile(r"(\d+)(\.\d+)? ?([A-Za-z]{3})?", re.ASCII)
_SHARE = re.compile(r"(\d+(?:\.\d+)?) ?%", re.ASCII)
_LIKE = 'an amount of money, like "38.50"'
_SHARE_LIKE = 'a share of the whole, like "15 %"'


class MoneyError(ReadError):
    """A text that is no amount of money, or no share."""


class Currency(msgspec.Struct, frozen=True, kw_only=True):
    """What is counted in."""

    code: str = ""
    """Three letters; "" where the shop names none."""

    @property
    def digits(self) -> int:
        """Decimals of its smallest coin; two where it is not known."""
        if self.code in NO_COINS:
            return 0
        if self.code in THOUSANDTHS:
            return 3
        return 4 if self.code in TEN_THOUSANDTHS else 2

    def rounded(self, amount: Decimal) -> Decimal:
        """The amount in whole smallest coins, halves away from nothing.

        >>> str(Currency(code="EUR").rounded(Decimal("2.675")))
        '2.68'
        >>> str(Currency(code="JPY").rounded(Decimal("2.5")))
        '3'
        """
        return amount.quantize(Decimal(1).scaleb(-self.digits), rounding=ROUND_HALF_UP)

    def plain(self, amount: Decimal) -> str:
        """The amount rounded to the coin, without the currency: "1234.50"."""
        return f"{self.rounded(amount):f}"

    def shown(self, amount: Decimal) -> str:
        """The amount rounded to the coin, with the currency: "1234.50 EUR"."""
        return f"{self.plain(amount)} {self.code}".rstrip()

    def price(self, amount: Decimal) -> str:
        """A price, which may be finer than the coin: "0.2755"."""
        text = f"{amount.normalize():f}"
        places = len(text.partition(".")[2])
        return text if places > self.digits else f"{amount:.{self.digits}f}"


def read_money(text: str, currency: Currency) -> Decimal:
    """Read an amount: "38.50", "38.50 EUR".

    Args:
        text: As the smith wrote it.
        currency: The book's; an amount in another is refused.

    Raises:
        MoneyError: it is no amount, below nothing, or in another currency.
    """
    if len(text) > LONGEST_TEXT:
        raise MoneyError(text, f"is longer than {LONGEST_TEXT} letters", _LIKE)
    body = tidy(text)
    match = _MONEY.fullmatch(body)
    if match is None:
        raise _no_money(text, body)
    code = (match[3] or "").upper()
    if code and not currency.code:
        raise MoneyError(
            text, "names a currency, and the shop has none", f'currency = "{code}" above it too'
        )
    if code and code != currency.code:
        raise MoneyError(text, f"is in {code}, and the shop counts in {currency.code}", _LIKE)
    number = match[1] + (match[2] or "")
    if len(match[2] or "") > FINEST + 1:
        raise MoneyError(text, f"has more than {FINEST} decimals", _LIKE)
    amount = Decimal(number)
    if amount > MOST:
        raise MoneyError(text, "is more than a thousand million", _LIKE)
    return amount


def _no_money(text: str, body: str) -> MoneyError:
    if not body:
        return MoneyError(text, "is empty", _LIKE)
    if body[0] in "-−":
        return MoneyError(text, "is below nothing", _LIKE)
    if re.fullmatch(r"\d+,\d{1,2}( ?[A-Za-z]{3})?", body, re.ASCII):
        return MoneyError(text, "has a comma", "a point", body.replace(",", "."))
    if re.search(r"\d[,' ]\d", body):
        return MoneyError(text, "has a sign between its figures", f"{_LIKE}, without such a sign")
    if any(sign in body for sign in "€$£¥"):
        return MoneyError(
            text, "has a sign for the currency", 'three letters after the number, like "38.50 EUR"'
        )
    if not re.search(r"\d", body, re.ASCII):
        return MoneyError(text, "has no number", _LIKE)
    return MoneyError(text, "cannot be read", _LIKE)


def read_share(text: str, most_percent: int = 100) -> Decimal:
    """Read a share: "15 %". Returns 0.15.

    Args:
        text: As the smith wrote it.
        most_percent: More than this is refused.

    Raises:
        MoneyError: it is no share, or out of its range.
    """
    body = tidy(text)
    match = _SHARE.fullmatch(body)
    if match is None:
        if body[:1] in ("-", "−"):
            raise MoneyError(text, "is below nothing", _SHARE_LIKE)
        if re.fullmatch(r"\d+(\.\d+)?", body, re.ASCII):
            raise MoneyError(text, "has no % after it", _SHARE_LIKE, f"{body} %")
        raise MoneyError(text, "is no share", _SHARE_LIKE)
    share = Decimal(match[1]) / 100
    if len(match[1]) > LONGEST_TEXT or share * 100 > most_percent:
        raise MoneyError(text, f"is more than {most_percent} %", _SHARE_LIKE)
    return share


def show_share(share: Decimal) -> str:
    """A share as it is written: "15 %", "2.5 %"."""
    percent = (share * 100).quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
    return f"{percent.normalize():f} %"


def added(amounts: Sequence[Decimal | None]) -> Decimal:
    """The sum of what is known."""
    return sum((a for a in amounts if a is not None), Decimal(0))
