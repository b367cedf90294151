"""A form whose answer is refused stays open and says why."""

from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from lacet.trip.house_rules import HouseRules
from lacet.window.dialogs.house_rules import HouseRulesDialog


def test_a_rule_out_of_its_bounds_is_told_and_one_within_is_kept(qtbot: QtBot) -> None:
    dialog = HouseRulesDialog(HouseRules())
    qtbot.addWidget(dialog)
    dialog.show()
    editor = dialog.rules.editors["walking_limit_m"]
    assert isinstance(editor, QLineEdit)
    editor.setText("0.5")
    dialog.accept()
    assert dialog.isVisible()
    assert "longest day on foot: 0.5 is not between 1 and 80 km" in dialog.problem.text()
    editor.setText("15")
    dialog.accept()
    assert not dialog.isVisible()
    assert dialog.answer().walking_limit_m == 15_000
