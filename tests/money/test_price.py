"""From lines to the price: the sums by hand, and that parts always add up."""

from __future__ import annotations

from decimal import Decimal

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from forgelog.money.amounts import Currency, added
from forgelog.money.lines import Line, priced
from forgelog.money.price import Remakes, price_of, remakes_of
from forgelog.money.rates import Rates

EURO = Currency(code="EUR")
NONE = Remakes(share=None)


def line(quantity: str, each: str | None, *, at_risk: bool = False, currency: Currency) -> Line:
    return priced(
        currency,
        id=f"{quantity} at {each}",
        group="work",
        words="work",
        quantity=Decimal(quantity),
        unit="h",
        each=Decimal(each) if each is not None else None,
        unset="[rates] fire_hour",
        at_risk=at_risk,
    )


def test_a_price_by_hand() -> None:
    """An invented order, reckoned on paper.

    3.35 h at 44.50 = 149.075, so 149.08; 2.413 kg at 1.855 = 4.476.., so 4.48.
    Made again 2.5 % of 4.48 = 0.112, so 0.11. Costs 153.67; margin 12.5 % = 19.208.., so 19.21.
    Without tax 172.88; tax 19 % = 32.847.., so 32.85; with it 205.73. A third of it in advance
    (33.3 %) = 68.508.., so 68.51; the rest 137.22.
    """
    rates = Rates(
        currency=EURO,
        margin=Decimal("0.125"),
        tax=Decimal("0.19"),
        deposit=Decimal("0.333"),
    )
    lines = (
        line("3.35", "44.50", currency=EURO),
        line("2.413", "1.855", at_risk=True, currency=EURO),
    )
    price = price_of(lines, rates, Remakes(share=Decimal("0.025")))
    assert [one.amount for one in price.lines] == [
        Decimal("149.08"),
        Decimal("4.48"),
        Decimal("0.11"),
        Decimal("19.21"),
    ]
    assert (price.cost, price.net) == (Decimal("153.67"), Decimal("172.88"))
    assert (price.tax, price.total) == (Decimal("32.85"), Decimal("205.73"))
    assert (price.deposit, price.rest) == (Decimal("68.51"), Decimal("137.22"))
    assert price.without == ()


def test_what_is_not_set_is_blank_left_out_and_named() -> None:
    price = price_of([line("2.00", None, currency=EURO)], Rates(currency=EURO), NONE)
    blank, remakes, margin = price.lines
    assert (blank.amount, blank.missing) == (None, "not set: shop.toml [rates] fire_hour")
    assert remakes.missing == "no record yet, and not set: shop.toml [quote] remakes"
    assert margin.missing == "not set: shop.toml [quote] margin"
    assert (price.net, price.tax, price.deposit, price.rest) == (0, None, None, None)
    assert price.without == ("work", "pieces made again", "margin", "tax")


def test_nothing_of_a_thing_costs_nothing_though_its_price_is_not_set() -> None:
    assert line("0", None, currency=EURO).amount == 0


def test_a_small_order_is_raised_to_the_minimum_charge_and_a_large_one_is_not() -> None:
    rates = Rates(currency=EURO, minimum=Decimal(60))
    small = price_of([line("1", "41.30", currency=EURO)], rates, NONE)
    assert (small.net, small.lines[-1].amount) == (60, Decimal("18.70"))
    large = price_of([line("2", "41.30", currency=EURO)], rates, NONE)
    assert large.net == Decimal("82.60")
    assert all(one.id != "minimum" for one in large.lines)


def test_remakes_come_from_the_record_drawn_to_what_the_smith_assumes() -> None:
    """2 of 30 of the recipe, 3 of 80 of all, 4 % assumed.

    All: (3 + 0.04 x 20) / 100 = 0.038; the recipe: (2 + 0.038 x 20) / 50 = 0.0552.
    """
    assumed = Rates(remakes=Decimal("0.04"))
    found = remakes_of(2, 30, all_spoilt=3, all_made=80, rates=assumed)
    assert found.share == Decimal("0.055")
    assert "assumed 4 %" in found.note
    alone = remakes_of(2, 30, all_spoilt=3, all_made=80, rates=Rates())
    assert alone.share == Decimal("0.055")  # (2 + 0.0375 x 20) / 50
    assert "assumed" not in alone.note
    assert remakes_of(0, 0, all_spoilt=0, all_made=0, rates=assumed).share == Decimal("0.04")
    assert remakes_of(0, 0, all_spoilt=0, all_made=0, rates=Rates()).share is None


shares = st.decimals(0, 1, places=3)
maybe = st.one_of(st.none(), shares)
figures = st.decimals(0, 5000, places=3).map(str)
prices = st.one_of(st.none(), figures)


@given(
    st.sampled_from(["JPY", "EUR", "BHD", ""]),
    st.lists(st.tuples(figures, prices, st.booleans()), max_size=8),
    st.tuples(maybe, maybe, maybe, maybe),
    st.one_of(st.none(), st.decimals(0, 9000, places=2)),
)
def test_parts_always_add_up_to_the_total_as_they_are_shown(
    code: str,
    rows: list[tuple[str, str | None, bool]],
    terms: tuple[Decimal | None, ...],
    minimum: Decimal | None,
) -> None:
    currency = Currency(code=code)
    margin, tax, deposit, share = terms
    rates = Rates(currency=currency, margin=margin, tax=tax, deposit=deposit, minimum=minimum)
    lines = [line(q, each, at_risk=risk, currency=currency) for q, each, risk in rows]
    price = price_of(lines, rates, Remakes(share=share))

    def shown(amount: Decimal | None) -> Decimal:
        return Decimal(currency.plain(amount)) if amount is not None else Decimal(0)

    assert sum((shown(one.amount) for one in price.lines), Decimal(0)) == shown(price.net)
    assert shown(price.net) + shown(price.tax) == shown(price.total)
    if price.deposit is not None:
        assert shown(price.deposit) + shown(price.rest) == shown(price.total)
        assert 0 <= price.deposit <= price.total
    assert price.net >= (currency.rounded(minimum) if minimum is not None else 0)
    exact = sum((Decimal(q) * Decimal(each) for q, each, _ in rows if each), Decimal(0))
    coin = Decimal(1).scaleb(-currency.digits)
    assert abs(added([one.amount for one in lines]) - exact) <= len(rows) * coin / 2
    blanks = [one for one in price.lines if one.amount is None]
    assert all(one.missing for one in blanks)
    assert len(price.without) == len(blanks) + (tax is None)


@given(figures, figures, shares)
def test_a_dearer_hour_never_makes_the_price_lower(
    quantity: str, each: str, margin: Decimal
) -> None:
    rates = Rates(currency=EURO, margin=margin)
    dear = str(Decimal(each) + 1)
    cheap = price_of([line(quantity, each, currency=EURO)], rates, NONE)
    assert price_of([line(quantity, dear, currency=EURO)], rates, NONE).net >= cheap.net


def test_overhead_of_an_hour_is_the_years_costs_over_the_hours_sold() -> None:
    year = {"rent": Decimal(4800), "insurance": Decimal(900)}
    rates = Rates(currency=EURO, year=year, sellable_hours=Decimal(900))
    assert rates.overhead_hour == Decimal("6.33")
    assert msgspec.structs.replace(rates, sellable_hours=None).overhead_hour is None
    assert msgspec.structs.replace(rates, year={}).overhead_hour is None
