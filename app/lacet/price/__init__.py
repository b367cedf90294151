"""What a trip costs: tariffs read, lines laid out, prices made from them. Money is never a float.

The order of the arithmetic, so that a spreadsheet comes to the same totals:

1. line net = quantity x unit price (x exchange rate), rounded to the currency's minor unit;
2. net = the sum of the included lines; a line is shared equally by its travellers, unrounded;
3. price of a traveller = own share x (1 + mark-up) or / (1 - margin), / (1 - commission), rounded to the
   minor unit, then raised to the next multiple of the house's rounding step;
4. party price = the sum of the travellers' prices. Commission, deposit and VAT are rounded to the minor unit.
"""
