"""A quote as plain data: what each line was reckoned with for the office, and none of it for the client."""

from dataclasses import replace
from typing import Any

from lacet.price.plain_quote import plain_quote
from lacet.price.quote import quote
from lacet.price.words import guest_names
from lacet.trip.party import Party, Traveller
from tests.price.small_library import AS_OF, CATALOGUE, RULES, THREE, TRIP, VARIANT, trip_of

FOR_OFFICE = {"quantity", "unit", "each", "currency", "exchange", "exchange_on", "net", "tariff", "item"}


def lines(*, for_client: bool = False) -> list[dict[str, Any]]:
    told = plain_quote(quote(TRIP, VARIANT, CATALOGUE, RULES, AS_OF), THREE, for_client=for_client)
    found: list[dict[str, Any]] = told["lines"]
    return found


def test_an_amount_in_another_currency_says_its_rate_and_the_day_of_it() -> None:
    (shared, alone) = [line for line in lines() if line["tariff"]["id"] == "lodging-forge"]
    assert (shared["each"], shared["currency"], shared["quantity"]) == ("54.20", "GBP", "2")
    assert (shared["exchange"], shared["exchange_on"]) == ("1.1623", "2026-11-20")
    assert (alone["each"], alone["exchange"]) == ("71.35", "1.1623")


def test_an_amount_in_the_quotes_own_currency_has_no_rate() -> None:
    own = [line for line in lines() if line["currency"] == "EUR"]
    assert own
    assert all(line["exchange"] is None and line["exchange_on"] is None for line in own)


def test_a_client_reads_nothing_that_a_supplier_asks() -> None:
    assert all(set(line) >= FOR_OFFICE for line in lines())
    assert all(set(line).isdisjoint(FOR_OFFICE) for line in lines(for_client=True))


def test_guests_are_named_by_the_party_and_counted_where_it_does_not_know_them() -> None:
    named = replace(
        THREE,
        travellers=tuple(
            Traveller(id=f"t{n}", name=name) for n, name in enumerate(("Ines", "Jan", "Kit"), 1)
        ),
    )
    found = quote(trip_of(VARIANT, named), VARIANT, CATALOGUE, RULES, AS_OF)
    assert list(guest_names(found, named).values()) == ["Ines", "Jan", "Kit"]
    assert list(guest_names(found, Party()).values()) == ["guest 1", "guest 2", "guest 3"]
