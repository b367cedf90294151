"""What leaves for clients is written from selling prices: no module of it reads a quote or a net price."""

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
# What quotes, their lines and their parts name that no client may see.
OF_THE_OFFICE = {
    "quote", "net", "margin", "commission", "markup_share", "margin_share", "commission_share", "each",
    "exchange", "tariff", "single_supplement_net",
}  # fmt: skip
# These take a quote and give nothing of it away: selling prices, and the checks' own view.
GIVE_NOTHING_AWAY = {"selling_prices", "case_of"}


def modules() -> list[Path]:
    """The modules import-linter keeps from net prices, as files."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]
    contract = next(each for each in settings["contracts"] if each["id"] == "clients-see-selling-prices")
    found: list[Path] = []
    for name in contract["source_modules"]:
        where = ROOT / "app" / Path(*name.split("."))
        found += sorted(where.rglob("*.py")) if where.is_dir() else [where.with_suffix(".py")]
    return found


def offices(source: str) -> Iterator[str]:
    """What a module reads of the office's, but for what it hands to those that give nothing away."""
    tree = ast.parse(source)
    handed = {
        id(argument)
        for call in ast.walk(tree)
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in GIVE_NOTHING_AWAY
        for argument in call.args
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in OF_THE_OFFICE and id(node) not in handed:
            yield f"{node.lineno}: {ast.unparse(node)}"


@pytest.mark.parametrize("path", modules(), ids=lambda path: path.relative_to(ROOT / "app/lacet").as_posix())
def test_a_module_for_clients_reads_nothing_of_the_offices(path: Path) -> None:
    assert list(offices(path.read_text())) == []


def test_reading_a_net_price_is_noticed() -> None:
    assert list(offices("total = found.quote.net")) == ["1: found.quote.net", "1: found.quote"]
    assert not list(offices("prices = selling_prices(found.quote)"))
