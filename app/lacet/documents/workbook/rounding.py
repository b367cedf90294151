"""The house's rounding as formulas, so that a sheet comes to the very totals the program does.

Sheets reckon in binary fractions: 2.675 euro are a hair less than that, and a half would be rounded down
that the program, with its exact fractions, rounds up. So every amount is first brought to a millionth of
the smallest coin, which turns a half into a half again (up to a thousand million coins), and then rounded.
"""

from dataclasses import dataclass

UP, EVEN = "up", "even"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounding:
    """Addresses of the cells that say how: coins in one unit of the currency, halves, the step of prices."""

    coins: str
    halves: str
    step: str

    def in_coins(self, amount: str) -> str:
        """An amount in the smallest coins, unrounded."""
        return f"ROUND(({amount})*{self.coins},6)"

    def whole(self, coins: str) -> str:
        """The nearest whole number of coins; halves up, or to the even one."""
        even = f"2*ROUND({coins}/2,0)"
        return f'IF(AND({self.halves}="{EVEN}",MOD({coins},1)=0.5),{even},ROUND({coins},0))'

    def rounded(self, amount: str) -> str:
        """An amount to the nearest coin."""
        return f"{self.whole(self.in_coins(amount))}/{self.coins}"

    def raised(self, coins: str) -> str:
        """Coins to the nearest, then up to the next step of prices, as an amount."""
        return f"CEILING({self.whole(coins)},{self.step})/{self.coins}"

    def price(self, amount: str) -> str:
        """An exact amount as a selling price."""
        return self.raised(self.in_coins(amount))

    def exact(self, amount: str) -> str:
        """An amount of whole coins, rid of what binary fractions add to a sum."""
        return f"ROUND(({amount})*{self.coins},0)/{self.coins}"
