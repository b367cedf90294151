"""Every command stands in one list, from which keys, menus and buttons are made; no key means two things."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QAbstractButton, QMenu, QWidget
from pytestqt.qtbot import QtBot

import lacet.window
from lacet.service.documents import DOCUMENTS
from lacet.window.app import open_window
from lacet.window.commands.given import Commands
from lacet.window.commands.listed import COMMANDS, Command, Menu, Need, Where, of_window
from lacet.window.dialogs.commands import CommandList, KeysPage, rows_of_keys
from lacet.window.main_window import MainWindow
from lacet.window.qt_session import QtSession

IN_WINDOW = Path(next(iter(lacet.window.__path__)))
# Keys of one widget, not of a window: the arrow from a finder to its list, Delete in a list of cards.
OF_A_WIDGET = {"dialogs/other_ways.py", "library/list_panel.py", "shelf/panel.py"}


@pytest.fixture
def window(session: QtSession, qtbot: QtBot) -> MainWindow:
    made = MainWindow(session, open_window)
    qtbot.addWidget(made)
    return made


def twice(commands: tuple[Command, ...]) -> list[str]:
    keys = Counter(QKeySequence(key).toString() for each in commands for key in each.keys)
    return [key for key, number in keys.items() if number > 1]


@pytest.mark.parametrize("where", [each for each in Where if each is not Where.EVERYWHERE])
def test_no_key_means_two_things_in_a_window(where: Where) -> None:
    assert twice((*of_window(where), *of_window(Where.EVERYWHERE))) == []


def test_a_key_given_twice_is_noticed() -> None:
    one = Command(id="a", text="A", says="a", keys=("Ctrl+A",))
    assert twice((one, Command(id="b", text="B", says="b", keys=("Ctrl+B", "ctrl+a")))) == ["Ctrl+A"]


def test_every_key_can_be_read_and_every_command_is_told_in_words() -> None:
    for each in COMMANDS:
        assert all(not QKeySequence(key).isEmpty() for key in each.keys), each.id
        assert each.name, each.id
        assert each.says[-1:].isalpha(), each.id
    assert len({(each.where, each.id) for each in COMMANDS}) == len(COMMANDS)
    assert len({(each.where, each.text) for each in COMMANDS}) == len(COMMANDS)


def bound_elsewhere() -> Iterator[str]:
    """Modules that give a window keys of their own."""
    for path in sorted(IN_WINDOW.rglob("*.py")):
        name = path.relative_to(IN_WINDOW).as_posix()
        calls = [each for each in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(each, ast.Call)]
        named = {each.func.id for each in calls if isinstance(each.func, ast.Name)}
        if "QShortcut" in named or ("QKeySequence" in named and name != "commands/given.py"):
            yield name


def test_keys_of_windows_are_given_in_one_place() -> None:
    # Closing adds Esc, where it means nothing else.
    assert set(bound_elsewhere()) == OF_A_WIDGET | {"closing.py"}


def test_keys_are_told_from_the_list_only() -> None:
    told = set[str]()
    for path in IN_WINDOW.rglob("*.py"):
        constants = [
            it for it in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(it, ast.Constant)
        ]
        if any(isinstance(it.value, str) and "(Ctrl+" in it.value for it in constants):
            told.add(path.relative_to(IN_WINDOW).as_posix())
    # The sheet's own keys are no commands.
    assert told == {"commands/listed.py", "sheet/panel.py"}


def test_a_window_does_each_of_its_commands_and_no_other(qtbot: QtBot) -> None:
    plain = QWidget()
    qtbot.addWidget(plain)
    done: list[str] = []
    does = {each.id: lambda each=each: done.append(each.id) for each in of_window(Where.DROP_TABLE)}
    commands = Commands(plain, Where.DROP_TABLE, does)
    for each in commands.listed:
        commands.actions[each.id].trigger()
    assert done == [each.id for each in of_window(Where.DROP_TABLE)]
    with pytest.raises(KeyError, match="dance"):
        Commands(plain, Where.DROP_TABLE, {**does, "dance": plain.close})
    with pytest.raises(KeyError, match="tick"):
        Commands(plain, Where.DROP_TABLE, {"take in": plain.close, "files": plain.close})


def test_menus_are_made_of_the_list(window: MainWindow) -> None:
    title = [each.text() for each in window.header.title.menu().actions() if each.text()]
    assert [each for each in title if each != "Recent projects"] == [
        each.text for each in COMMANDS if each.menu is Menu.TITLE
    ]
    hands_over = window.commands.menu(Menu.HAND_OVER, window)
    assert [each.text() for each in hands_over.actions()] == ["Proposal…", "Travel pack…"]


def test_every_document_has_a_command() -> None:
    assert {each.id for each in DOCUMENTS} - {each.id for each in COMMANDS} == {"quote"}
    assert "price" in {each.id for each in COMMANDS}, "where a quote is saved, issued and accepted"


def test_buttons_of_commands_are_named_for_assistive_technology(window: MainWindow) -> None:
    named = {each.accessibleName() for each in window.header.findChildren(QAbstractButton)}
    assert {"Undo", "Redo", "Settings", "What it costs", "Variants side by side"} <= named
    tips = {each.accessibleName(): each.toolTip() for each in window.header.findChildren(QAbstractButton)}
    assert tips["What it costs"] == "The price by kind and by day (Ctrl+Shift+P)"


def test_each_command_is_reached_by_the_keyboard(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[str] = []
    monkeypatch.setattr(window.commands, "run", ran.append)
    for each in window.commands.listed:
        found = CommandList(window.commands, window)
        qtbot.addWidget(found)
        qtbot.keyClicks(found.finder, each.name)
        rows = [it.id for it in found.shown]
        for _ in range(rows.index(each.id)):
            qtbot.keyClick(found.finder, Qt.Key.Key_Down)
        qtbot.keyClick(found.finder, Qt.Key.Key_Return)
    assert ran == [each.id for each in window.commands.listed]


def test_commands_are_found_by_any_of_their_words(window: MainWindow, qtbot: QtBot) -> None:
    found = CommandList(window.commands, window)
    qtbot.addWidget(found)
    qtbot.keyClicks(found.finder, "TARIFFS lodg")
    assert [each.id for each in found.shown] == ["library"]
    found.finder.setText("no such thing")
    assert found.shown == ()
    assert not found.nothing.isHidden()
    found.run_chosen()


def test_what_a_command_lacks_is_said_instead(window: MainWindow, session: QtSession, qtbot: QtBot) -> None:
    session.let_client_look(True)
    found = CommandList(window.commands, window)
    qtbot.addWidget(found)
    found.finder.setText("Library…")
    says = found.table.item(0, 1)
    assert says is not None
    assert says.text() == Need.OFFICE
    found.run_chosen()
    assert window.header.sentence.text() == Need.OFFICE
    assert window.library is None


def test_a_key_of_the_list_does_what_it_says(window: MainWindow, session: QtSession, qtbot: QtBot) -> None:
    assert session.opened is not None
    window.commands.actions["copy variant"].trigger()
    assert len(session.opened.trip.variants) == 2
    shown = session.opened.variant_id
    window.commands.actions["next variant"].trigger()
    assert session.opened.variant_id != shown
    window.commands.actions["undo"].trigger()
    assert len(session.opened.trip.variants) == 1


def test_the_page_of_keys_holds_every_key(qtbot: QtBot) -> None:
    page = KeysPage()
    qtbot.addWidget(page)
    assert page.table.rowCount() == len(rows_of_keys())
    told = Counter(key for _, keys, _ in rows_of_keys() for key in keys.split(", "))
    for each in COMMANDS:
        assert all(told[key] for key in each.keys), each.id
    assert [where for where, _, _ in rows_of_keys() if where][:2] == ["Trip", "On the sheet"]


def test_an_entry_chosen_from_the_menu_runs_its_command(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[str] = []
    monkeypatch.setattr(window.commands, "run", ran.append)
    menu: QMenu = window.header.title.menu()
    next(each for each in menu.actions() if each.text() == "Keys…").trigger()
    assert ran == ["keys"]
