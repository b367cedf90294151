"""Every check is registered, says what it is and stands in the guide; so does every house rule."""

from dataclasses import fields
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import lacet.checks
from lacet.checks.registry import CHECKS
from lacet.trip.house_rules import HouseRules

GUIDE = Path(__file__).parents[2] / "DEVELOPERS.md"


def test_every_file_that_is_a_check_is_registered_under_its_own_name() -> None:
    modules = [import_module(f"lacet.checks.{each.name}") for each in iter_modules(lacet.checks.__path__)]
    checks = [module for module in modules if hasattr(module, "ID")]
    assert {module.ID for module in checks} == {module.ID for module in CHECKS}
    for module in checks:
        assert module.__name__.rpartition(".")[2] == module.ID
        assert "\n" not in module.SAYS
        assert module.SAYS.endswith(".")


def test_the_guide_lists_every_check() -> None:
    guide = GUIDE.read_text(encoding="utf-8")
    missing = [module.ID for module in CHECKS if f"| `{module.ID}` | {module.SAYS} |" not in guide]
    assert missing == []


def test_every_house_rule_says_what_it_is() -> None:
    for rule in fields(HouseRules):
        assert rule.metadata["says"], rule.name
        low, high = rule.metadata["low"], rule.metadata["high"]
        if isinstance(rule.default, int | float) and not isinstance(rule.default, bool):
            assert low is None or low <= rule.default
            assert high is None or rule.default <= high
