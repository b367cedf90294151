"""What a client who looks on may see: a variant without the findings that tell what suppliers ask."""

from dataclasses import replace
from typing import TypeVar

from lacet.checks import price_known, price_sold
from lacet.service.shown import Shown

OFFICE_CHECKS = frozenset({price_known.ID, price_sold.ID})
ShownKind = TypeVar("ShownKind", bound=Shown)


def for_eyes(shown: ShownKind, client_looks_on: bool) -> ShownKind:
    """What is shown, with nothing in its findings that is only the office's to know."""
    found = shown.assessment
    if not client_looks_on:
        return shown
    kept = tuple(each for each in found.findings if each.check not in OFFICE_CHECKS)
    return replace(shown, assessment=replace(found, findings=kept))
