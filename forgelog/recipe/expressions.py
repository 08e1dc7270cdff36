"""Dimensions as sums over the order's sizes: "post + washer + 10 mm", "2 * post", "post / 2".

Plus and minus stand between spaces (a dash in a number is a mixed fraction); times and divided
take a plain number; parentheses hold a sum together.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from functools import lru_cache

import msgspec

from forgelog.recipe.plain import did_you_mean, listed, quoted
from forgelog.recipe.problems import Fault
from forgelog.units import (
    ReadError,
    UnitError,
    parse_length,
    parse_temperature,
    scan_quantity,
    tidy,
)

LONGEST = 200
"""A sum of more letters than this is refused unread."""
DEEPEST = 12
"""Parentheses in parentheses beyond this are refused."""
GREATEST_MM = 20_000.0
"""No piece for one smith's fire is longer; a bar is 6 m."""

EXPECTED = 'write a length with its unit, like "12 mm", or a sum over sizes, like "post + 14 mm"'

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*+")
_NUMBER = re.compile(r"(?:\d++(?:\.\d++)?|\.\d++)(?![\d.])", re.ASCII)
_ONE_QUANTITY = r"[\d.,][\d., /-]*[A-Za-z°\"']*[CF]?\s*$"
_SIGNS = str.maketrans({"−": "-", "×": "*", "·": "*", "÷": "/"})


class _StopError(Exception):
    def __init__(self, fault: Fault) -> None:
        self.fault = fault


class _Value(msgspec.Struct, frozen=True):
    number: float
    power: int
    """1 of a length in mm, 0 of a plain number."""


def worked_out(
    text: str, sizes_mm: Mapping[str, float], *, zero: bool = False, signed: bool = False
) -> float | Fault:
    """Work out a dimension.

    Args:
        text: "12 mm", "post + 14 mm", "(post - 2 mm) / 2".
        sizes_mm: The sizes by name, mm.
        zero: True where nothing is a fair answer, as of a tolerance.
        signed: True where the answer may be below nothing, as in prose.

    Returns:
        mm, up to `GREATEST_MM`; or what is wrong. Not a number where a size is none.
    """
    if text[:1].isdigit() and (mm := _plain_mm(text)) is not None:
        return _fair(mm, text, zero=zero, signed=signed)
    try:
        value = _Reader(text, sizes_mm).read()
    except _StopError as stop:
        return _plain_quantity_fault(text, sizes_mm) or stop.fault
    if value.power != 1:
        fault = _fault(found=f"is {quoted(text)}, a plain number")
        return _plain_quantity_fault(text, sizes_mm) or fault
    return _fair(value.number, text, zero=zero, signed=signed)


@lru_cache(maxsize=1024)
def _plain_mm(text: str) -> float | None:
    """A length that is no sum, mm, or None where it is more than that, or none."""
    if len(text) > LONGEST:
        return None
    body = tidy(text)
    try:
        read = scan_quantity(body)
    except UnitError:
        return None
    if read is None or read[1] < len(body) or read[0].kind != "length":
        return None
    return read[0].value


def names_in(text: str) -> list[str]:
    """What may be names of sizes in a sum; units are among them."""
    return _NAME.findall(text)


def temperature_of(text: str) -> float | None:
    """The temperature that the text is, in degC, or None where it is none."""
    if "eg" not in text and "°" not in text and "℃" not in text and "℉" not in text:
        return None
    try:
        return parse_temperature(text)
    except UnitError:
        return None


def is_unit(name: str) -> bool:
    """Whether a name is the spelling of a unit, so that no size may have it."""
    body = tidy(f"1 {name}")
    try:
        read = scan_quantity(body)
    except UnitError:
        return True
    return read is not None and read[1] == len(body)


def _fault(found: str, expected: str = EXPECTED, hint: str = "") -> Fault:
    return Fault(found=found, expected=expected, hint=hint)


def _plain_quantity_fault(text: str, sizes_mm: Mapping[str, float]) -> Fault | None:
    """What the units say of a text that is no sum but only a quantity gone wrong."""
    if not re.match(_ONE_QUANTITY, text) or any(name in sizes_mm for name in names_in(text)):
        return None
    try:
        parse_length(text)
    except UnitError as error:
        return unit_fault(error)
    return None


def unit_fault(error: ReadError) -> Fault:
    """What the units found wrong, as a clause that follows the key."""
    return Fault(
        found=f"is {quoted(error.found)}, which {error.problem}",
        expected=f"write {error.expected}",
        hint=f'did you mean "{error.hint}"?' if error.hint else "",
    )


def _fair(mm: float, text: str, *, zero: bool, signed: bool) -> float | Fault:
    if math.isnan(mm):
        return mm
    if abs(mm) > GREATEST_MM:
        return _fault(found=f"is {quoted(text)}, which is more than 20 m")
    if signed or mm > 1e-6 or (zero and mm > -1e-6):
        return mm if signed else max(0.0, mm)
    shown = f"{mm:.1f}".rstrip("0").rstrip(".")
    shown = "0" if shown == "-0" else shown
    return _fault(
        found=f"is {quoted(text)}, which comes to {shown} mm",
        expected="make it more than nothing",
    )


class _Reader:
    """One text, read from left to right."""

    def __init__(self, text: str, sizes_mm: Mapping[str, float]) -> None:
        if len(text) > LONGEST:
            raise _StopError(
                _fault(
                    found=f"has {len(text)} letters",
                    expected=f"write at most {LONGEST}",
                )
            )
        self.text = tidy(text).translate(_SIGNS)
        self.sizes_mm = sizes_mm
        self.place = 0
        self.depth = 0

    def read(self) -> _Value:
        if not self.text:
            raise _StopError(_fault(found="is empty"))
        value = self._sum()
        if self.place < len(self.text):
            raise _StopError(self._going_on())
        return value

    def _sum(self) -> _Value:
        value = self._product()
        while (sign := self._sign("+-")) is not None:
            other = self._product()
            if value.power != other.power:
                raise _StopError(
                    _fault(
                        found=f"is {quoted(self.text)}, which adds a length and a plain number",
                        expected="give every part its unit",
                    )
                )
            number = value.number + other.number if sign == "+" else value.number - other.number
            value = _Value(number, value.power)
        return value

    def _product(self) -> _Value:
        value = self._atom()
        while (sign := self._sign("*/")) is not None:
            other = self._atom()
            value = self._times(value, other) if sign == "*" else self._divided(value, other)
        return value

    def _times(self, one: _Value, other: _Value) -> _Value:
        if one.power and other.power:
            raise _StopError(
                _fault(
                    found=f"is {quoted(self.text)}, which multiplies a length by a length",
                    expected="multiply by a plain number",
                )
            )
        return _Value(one.number * other.number, one.power + other.power)

    def _divided(self, one: _Value, other: _Value) -> _Value:
        if other.power:
            raise _StopError(
                _fault(
                    found=f"is {quoted(self.text)}, which divides by a length",
                    expected="divide by a plain number",
                )
            )
        if other.number == 0:
            raise _StopError(
                _fault(
                    found=f"is {quoted(self.text)}, which divides by nothing",
                    expected="divide by a plain number",
                )
            )
        return _Value(one.number / other.number, one.power)

    def _atom(self) -> _Value:
        self._spaces()
        if self.text.startswith("(", self.place):
            return self._parentheses()
        try:
            quantity = scan_quantity(self.text, self.place)
        except UnitError as error:
            raise _StopError(
                _fault(
                    found=f"has {quoted(error.found)}, which {error.problem}",
                    expected=f"write {error.expected}",
                    hint=f'did you mean "{error.hint}"?' if error.hint else "",
                )
            ) from None
        if quantity is not None:
            if quantity[0].kind != "length":
                raise _StopError(_fault(found=f"has a {quantity[0].kind} in it"))
            self.place = quantity[1]
            return _Value(quantity[0].value, 1)
        if match := _NAME.match(self.text, self.place):
            self.place = match.end()
            return _Value(self._size(match[0]), 1)
        if match := _NUMBER.match(self.text, self.place):
            self.place = match.end()
            number = float(match[0])
            if not math.isfinite(number):
                raise _StopError(_fault(found="has a number that is too great"))
            return _Value(number, 0)
        raise _StopError(self._nothing_here())

    def _parentheses(self) -> _Value:
        self.depth += 1
        if self.depth > DEEPEST:
            raise _StopError(
                _fault(
                    found=f"has parentheses {self.depth} deep",
                    expected=f"write at most {DEEPEST}",
                )
            )
        self.place += 1
        value = self._sum()
        self._spaces()
        if not self.text.startswith(")", self.place):
            raise _StopError(_fault(found=f'is {quoted(self.text)}, where a ")" is missing'))
        self.place += 1
        self.depth -= 1
        return value

    def _size(self, name: str) -> float:
        if name in self.sizes_mm:
            return self.sizes_mm[name]
        if not self.sizes_mm:
            expected = "write a length with its unit, or give the size its own [sizes] heading"
        else:
            expected = f"the sizes are {listed(self.sizes_mm, 'and')}"
        raise _StopError(
            _fault(
                found=f"has {quoted(name)}, which is no size of this recipe",
                expected=expected,
                hint=did_you_mean(name, self.sizes_mm),
            )
        )

    def _sign(self, signs: str) -> str | None:
        """Take one of the signs if it stands here; a plus or minus needs its spaces."""
        before = self.place
        self._spaces()
        sign = self.text[self.place : self.place + 1]
        if not sign or sign not in signs:
            self.place = before
            return None
        self.place += 1
        if not self._rest():
            raise _StopError(self._nothing_here())
        if sign in "+-" and not (
            self.text[before : before + 1] == " " and self.text[self.place : self.place + 1] == " "
        ):
            word = "plus" if sign == "+" else "minus"
            near = self._spaced(sign)
            raise _StopError(
                _fault(
                    found=f"has a {word} without a space on each side",
                    expected=f'write it " {sign} "',
                    hint=f"did you mean {quoted(near, 60)}?" if near else "",
                )
            )
        return sign

    def _spaced(self, sign: str) -> str:
        left, right = self.text[: self.place - 1], self.text[self.place :]
        return f"{left.rstrip()} {sign} {right.lstrip()}"

    def _spaces(self) -> None:
        while self.text.startswith(" ", self.place):
            self.place += 1

    def _rest(self) -> str:
        return self.text[self.place :].strip()

    def _going_on(self) -> Fault:
        rest = self._rest()
        if rest.startswith(")"):
            return _fault(found=f'is {quoted(self.text)}, where a ")" has no "("')
        head = self.text[: self.place].rstrip()
        if _NUMBER.fullmatch(head):
            word = _NAME.match(rest)
            if word and word[0] in self.sizes_mm:
                return _fault(
                    found=f"is {quoted(self.text)}",
                    expected="write times as *",
                    hint=f"did you mean {quoted(f'{head} * {rest}')}?",
                )
            return _fault(found=f"is {quoted(self.text)}, which has no unit that is known here")
        return _fault(found=f"goes on with {quoted(rest)} where a sum has ended")

    def _nothing_here(self) -> Fault:
        rest = self._rest()
        if not rest:
            return _fault(found=f"is {quoted(self.text)}, which ends too soon")
        return _fault(found=f"has {quoted(rest)} where a length or a size should be")
