"""What guests are known by, and where a text says it: whole words, without case or accents.

A whole name, an address, a number is theirs for sure, and so is a word of a name that means nothing else.
A word that is short ('Bo'), everyday ('May') or also the name of a place or house may mean something else: it
is told as doubtful and never changed. A single letter is no name.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from lacet.trip.texts import words_in

Phrase = tuple[str, ...]
_TOKEN = re.compile(r"[^\W_]+")
_LEAST_DIGITS = 6
_SHORTEST = 3
_EVERYDAY = frozenset(
    """
    a an and at by for from in of on or the to with without mr mrs ms miss dr prof sir lady
    party family group guest guests client trip tour friend friends wife husband partner mother father
    sister brother son daughter aunt uncle cousin room house home street road row lane way hill place
    january february march april may june july august september october november december
    monday tuesday wednesday thursday friday saturday sunday spring summer autumn winter north south
    east west note name email telephone phone mobile call
    und der die das von van zu mit herr frau familie gruppe de la le du del
    """.split()  # noqa: SIM905 - a list of words reads better than a column of quotes
)
# Of those, what people are called, too.
_ALSO_NAMES = frozenset({"april", "may", "june", "august", "summer", "autumn", "west", "north", "hill"})


class Span(NamedTuple):
    """A place of a text [characters of its NFC form] that names somebody, and whether that is sure."""

    start: int
    end: int
    sure: bool


@dataclass(frozen=True)
class KnownBy:
    """Names (whole), other texts (addresses, numbers), and words that mean something else here, too."""

    names: frozenset[str]
    others: frozenset[str] = frozenset()
    elsewhere: frozenset[str] = frozenset()

    def spans(self, text: str) -> list[Span]:
        """Where a text names them, first to last; each place once."""
        if not self.may_hold(text):
            return []
        tokens = [(match.span(), "".join(words_in(match[0]))) for match in _TOKEN.finditer(composed(text))]
        return list(self._matches(tokens))

    def may_hold(self, text: str) -> bool:
        """A quick look, so that long texts without any of the words cost next to nothing."""
        plain = " ".join(words_in(text))
        return any(first in plain for first in self._begins)

    def names_them(self, text: str) -> bool:
        """Whether any word of a name, however short or common, is in a text; for what is their own."""
        return not (self.own_words | self._doubtful).isdisjoint(words_in(text)) or bool(self.spans(text))

    def with_more(self, names: Iterable[str], others: Iterable[str]) -> "KnownBy":
        return KnownBy(self.names.union(names), self.others.union(others), self.elsewhere)

    @cached_property
    def phrases(self) -> frozenset[Phrase]:
        """Whole texts of two words or more, and numbers in each way of grouping their digits."""
        whole = (words_in(part) for text in self.names | self.others for part in _parts(text))
        long = {words for words in whole if len(words) > 1 and sum(map(len, words)) >= _SHORTEST}
        long = {words for words in long if not _EVERYDAY.issuperset(words)}
        digits = ("".join(re.findall(r"\d", text)) for text in self.others)
        return frozenset(long | {(each,) for each in digits if len(each) >= _LEAST_DIGITS})

    @cached_property
    def own_words(self) -> frozenset[str]:
        """Every word of their names but those of everybody ('party', 'the') and single letters."""
        return frozenset(word for word in self._name_words if word not in _EVERYDAY)

    @cached_property
    def sure_words(self) -> frozenset[str]:
        return frozenset(w for w in self.own_words if len(w) >= _SHORTEST and w not in self.elsewhere)

    @cached_property
    def _name_words(self) -> frozenset[str]:
        words = (word for name in self.names for word in words_in(name))
        return frozenset(word for word in words if len(word) > 1 and word.isalpha())

    @cached_property
    def _doubtful(self) -> frozenset[str]:
        return (self.own_words | (self._name_words & _ALSO_NAMES)) - self.sure_words

    @cached_property
    def _begins(self) -> frozenset[str]:
        firsts = {phrase[0] for phrase in self.phrases}
        return self.sure_words | self._doubtful | firsts | {each[:2] for each in firsts if each.isdigit()}

    def _matches(self, tokens: list[tuple[tuple[int, int], str]]) -> Iterator[Span]:
        at, longest = 0, max(map(len, self.phrases), default=0)
        while at < len(tokens):
            taken = self._phrase_at(tokens, at, longest)
            if taken:
                yield Span(tokens[at][0][0], tokens[at + taken - 1][0][1], True)
            elif (word := tokens[at][1]) in self.sure_words or word in self._doubtful:
                yield Span(*tokens[at][0], word in self.sure_words)
            at += max(taken, 1)

    def _phrase_at(self, tokens: list[tuple[tuple[int, int], str]], at: int, longest: int) -> int:
        """How many words from here on are one of the phrases; 0 = none."""
        words = tuple(word for _, word in tokens[at : at + max(longest, 8)])
        for length in range(min(longest, len(words)), 0, -1):
            if words[:length] in self.phrases:
                return length
        digits = ""
        for length, word in enumerate(words, start=1):
            if not word.isdigit():
                break
            digits += word
            if (digits,) in self.phrases:
                return length
        return 0


def composed(text: str) -> str:
    """A text with its accents composed, which is what spans count in."""
    return unicodedata.normalize("NFC", text)


def _parts(text: str) -> tuple[str, ...]:
    """A text, and its lines and what stands between commas."""
    return (text, *re.split(r"[,;\n]", text))
