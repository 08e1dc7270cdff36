"""A number set digit by digit with four keys, or typed."""

from __future__ import annotations

import math

import msgspec

MM_PATTERN = "dddd.d mm"
INCH_PATTERN = "ddd dd/32 in"
KG_PATTERN = "ddd.d kg"
POUND_PATTERN = "ddd.d lb"
COUNT_PATTERN = "ddd"
DATE_PATTERN = "dddd-dd-dd"
HOURS_PATTERN = "ddd.dd h"


class Digits(msgspec.Struct, frozen=True, kw_only=True):
    """Digits in a fixed pattern, and the one that is under the key."""

    pattern: str
    """ "d" stands for a digit, all else for itself."""
    digits: str
    at: int = 0
    whole: int = 0
    """How many digits in front take what is typed from the right, as a till does; 0 where typing
    goes from left to right, as in a date."""
    fresh: bool = True
    """True until a key has set something: what is typed then begins the number anew."""

    @property
    def text(self) -> str:
        """The pattern with its digits in: "0105.0 mm"."""
        left = iter(self.digits)
        return "".join(next(left) if sign == "d" else sign for sign in self.pattern)

    @property
    def column(self) -> int:
        """Where in the text the digit under the key stands."""
        places = [i for i, sign in enumerate(self.pattern) if sign == "d"]
        return places[self.at]

    def raised(self) -> Digits:
        """The digit one higher; 9 becomes 0."""
        return self.with_digit(str((int(self.digits[self.at]) + 1) % 10))

    def next(self) -> Digits:
        """The next digit, round the end."""
        at = (self.at + 1) % len(self.digits)
        return msgspec.structs.replace(self, at=at, fresh=False)

    def typed(self, digit: str) -> Digits:
        """A digit that was typed."""
        if self.at >= self.whole:
            first = self if not self.fresh else msgspec.structs.replace(self, at=0)
            return first.with_digit(digit).next()
        old, rest = self.digits[: self.whole], self.digits[self.whole :]
        if self.fresh:
            old, rest = "", "0" * len(rest)
        front = (old + digit)[-self.whole :].rjust(self.whole, "0")
        return msgspec.structs.replace(self, digits=front + rest, fresh=False)

    def with_digit(self, digit: str) -> Digits:
        """Another digit in this place."""
        digits = self.digits[: self.at] + digit + self.digits[self.at + 1 :]
        return msgspec.structs.replace(self, digits=digits, fresh=False)


def count_digits(count: int) -> Digits:
    """A whole number up to 999; the last digit is under the key."""
    return Digits(pattern=COUNT_PATTERN, digits=f"{min(999, max(0, count)):03}", at=2, whole=3)


def date_digits(date: str) -> Digits:
    """A date written YYYY-MM-DD; the day is under the key."""
    return Digits(pattern=DATE_PATTERN, digits=date.replace("-", "")[:8].rjust(8, "0"), at=7)


def length_digits(mm: float, *, in_inches: bool) -> Digits:
    """A length, in mm and tenths or in inches and 32nds; the whole units are under the key."""
    if in_inches:
        parts = min(999 * 32, max(0, round(mm / 25.4 * 32)))
        return Digits(
            pattern=INCH_PATTERN, digits=f"{parts // 32:03}{parts % 32:02}", at=2, whole=3
        )
    tenths = min(99_999, max(0, round(mm * 10)))
    return Digits(pattern=MM_PATTERN, digits=f"{tenths:05}", at=3, whole=4)


def mass_digits(kg: float, *, in_pounds: bool) -> Digits:
    """A mass as a scale shows it, to a tenth; the whole kg or pounds are under the key."""
    tenths = min(9999, max(0, round((kg / 0.45359237 if in_pounds else kg) * 10)))
    pattern = POUND_PATTERN if in_pounds else KG_PATTERN
    return Digits(pattern=pattern, digits=f"{tenths:04}", at=2, whole=3)


def hours_digits(hours: str) -> Digits:
    """Hours and hundredths; the whole hours are under the key."""
    hundredths = min(99_999, max(0, round(100 * _figure(hours))))
    return Digits(pattern=HOURS_PATTERN, digits=f"{hundredths:05}", at=2, whole=3)


def money_digits(amount: str, places: int) -> Digits:
    """An amount of money with so many decimals; the whole units are under the key."""
    coins = min(10 ** (6 + places) - 1, max(0, round(_figure(amount) * 10**places)))
    pattern = "d" * 6 + ("." + "d" * places if places else "")
    return Digits(pattern=pattern, digits=f"{coins:0{6 + places}}", at=5, whole=6)


def _figure(text: str) -> float:
    try:
        figure = float(text)
    except ValueError:
        return 0.0
    return figure if math.isfinite(figure) else 0.0
