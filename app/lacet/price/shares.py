"""Who bears what: each line is shared equally by its travellers, exactly; cents appear only at the end."""

from collections import defaultdict
from collections.abc import Iterable
from fractions import Fraction

from lacet.price.amounts import from_minor, round_fraction, split, to_minor
from lacet.price.lines import QuoteLine
from lacet.price.selling import Terms, factor_of
from lacet.price.selling_prices import RoomPrice
from lacet.price.values import ExtraPrice, Quote, TravellerPrice
from lacet.trip.money import Money
from lacet.trip.party import Party, Traveller
from lacet.trip.words import Service


def net_minor(lines: Iterable[QuoteLine]) -> int:
    """The known net prices of lines, added up."""
    return sum(to_minor(line.net) for line in lines if line.net is not None)


def exact_shares(lines: Iterable[QuoteLine], travellers: Iterable[str]) -> dict[str, Fraction]:
    """Everybody's share of the known net prices, in minor units, unrounded."""
    pooled: defaultdict[tuple[str, ...], int] = defaultdict(int)
    for line in lines:
        if line.net is not None:
            pooled[line.travellers] += to_minor(line.net)
    shares = dict.fromkeys(travellers, Fraction(0))
    for group, total in pooled.items():
        part = Fraction(total, len(group))
        for traveller in group:
            shares[traveller] += part
    return shares


def shares_of(quote: Quote) -> dict[str, Fraction]:
    """Everybody's exact share of a quote's net price, in minor units."""
    return exact_shares(quote.included, (each.traveller for each in quote.per_traveller))


def traveller_prices(shares: dict[str, Fraction], terms: Terms, currency: str) -> tuple[TravellerPrice, ...]:
    """Net and selling price of each. Those with equal shares pay the same to the cent."""
    nets = split(int(sum(shares.values())), tuple(shares.values()))
    return tuple(
        TravellerPrice(
            traveller=traveller,
            net=from_minor(net, currency),
            price=from_minor(terms.price(exact), currency),
        )
        for (traveller, exact), net in zip(shares.items(), nets, strict=True)
    )


def room_prices(
    lines: Iterable[QuoteLine], prices: tuple[TravellerPrice, ...], party: Party, days: int, child_to_age: int
) -> tuple[RoomPrice, ...]:
    """Prices a head by the rooms slept in: adults who are there from the first day to the last."""
    rooms: defaultdict[str, dict[tuple[str, int], None]] = defaultdict(dict)
    for line in lines:
        if line.service is Service.LODGING and line.sharing is not None:
            for traveller in line.travellers:
                rooms[traveller][line.room_kind, line.sharing] = None
    alike: dict[tuple[tuple[tuple[str, int], ...], Money], list[str]] = {}
    whole = {guest.id for guest in party.travellers if _adult_all_along(guest, days, child_to_age)}
    for each in prices:
        if each.traveller in whole and each.traveller in rooms:
            alike.setdefault((tuple(rooms[each.traveller]), each.price), []).append(each.traveller)
    return tuple(
        RoomPrice(
            room_kinds=tuple(dict.fromkeys(kind for kind, _ in slept_in)),
            sharing=tuple(dict.fromkeys(sharing for _, sharing in slept_in)),
            price=price,
            travellers=tuple(travellers),
        )
        for (slept_in, price), travellers in alike.items()
    )


def _adult_all_along(guest: Traveller, days: int, child_to_age: int) -> bool:
    stays = guest.from_day == 1 and (guest.to_day is None or guest.to_day >= days)
    return stays and (guest.age is None or guest.age > child_to_age)


def extra_price(line: QuoteLine, terms: Terms) -> ExtraPrice:
    """An optional line at selling price: rounded a head, so that whoever takes it pays just that."""
    if line.net is None:
        return ExtraPrice(line=line, a_head=None, price=None)
    heads = len(line.travellers)
    a_head = from_minor(terms.price_of(to_minor(line.net), heads), line.net.currency)
    return ExtraPrice(line=line, a_head=a_head, price=a_head * heads)


def price_a_head(quote: Quote) -> Money | None:
    """The price shared equally, to the minor unit; None for a party of nobody and where none is known."""
    heads = len(quote.per_traveller)
    if not heads or not quote.lines or quote.nothing_known:
        return None
    return from_minor(round_fraction(Fraction(to_minor(quote.total), heads)), quote.currency)


def by_day(quote: Quote) -> tuple[tuple[int | None, Money, Money], ...]:
    """(day, net, selling price) of every day with a price and of the whole trip (None), last.

    The total is split by net price with nothing lost: the parts add up to `net` and `total`.
    """
    nets: defaultdict[int | None, int] = defaultdict(int)
    for line in quote.included:
        if line.net is not None:
            nets[line.day] += to_minor(line.net)
    days = sorted(nets, key=lambda day: (day is None, day or 0))
    prices = split(to_minor(quote.total), tuple(nets[day] for day in days))
    return tuple(
        (day, from_minor(nets[day], quote.currency), from_minor(price, quote.currency))
        for day, price in zip(days, prices, strict=True)
    )


def a_head_by_day(quote: Quote) -> dict[int | None, Money | None]:
    """What each day adds to the price a head, before it is raised to a round figure; None = not known.

    Unlike the parts of `by_day` these don't depend on the other days: an equal day costs the same in any
    variant made by the same terms.
    """
    heads = len(quote.per_traveller)
    factor = factor_of(quote.markup_share, quote.margin_share, quote.commission_share)
    nets: defaultdict[int | None, int] = defaultdict(int)
    for line in quote.included:
        nets[line.day] += 0 if line.net is None else to_minor(line.net)
    unknown = {line.day for line in quote.included if line.net is None}
    if not heads:
        return {}
    return {
        day: None if day in unknown else from_minor(round_fraction(net * factor / heads), quote.currency)
        for day, net in nets.items()
    }


def by_service(quote: Quote) -> tuple[tuple[Service, Money, Money], ...]:
    """(service, net, selling price), split the same way."""
    nets: defaultdict[Service, int] = defaultdict(int)
    for line in quote.included:
        if line.net is not None:
            nets[line.service] += to_minor(line.net)
    prices = split(to_minor(quote.total), tuple(nets.values()))
    return tuple(
        (service, from_minor(net, quote.currency), from_minor(price, quote.currency))
        for (service, net), price in zip(nets.items(), prices, strict=True)
    )
