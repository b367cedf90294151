"""Variants side by side: figures with differences, days lined up by where the party is, sentences."""

from lacet.compare.comparison import Comparison, Side, compare

__all__ = ["Comparison", "Side", "compare"]
