"""An error in a slot, a timer, a painter, a thread or an errand is told, and the window goes on."""

import os
import subprocess
import sys

import pytest
from pytestqt.qtbot import QtBot

from lacet.unexpected import SENTENCE
from lacet.window.faults import Faults

PROGRAM = """
import sys, threading
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QPushButton, QWidget
from lacet.unexpected import report_folder
from lacet.window.app import make_application
from lacet.window.faults import catch_faults
from lacet.window.work import Work

app = make_application(["lacet"])
faults = catch_faults(app)
told = []
faults.came_up.connect(told.append)
if "silent" in sys.argv:
    sys.stderr = sys.stdout = None

class Painted(QWidget):
    def paintEvent(self, event):
        raise AttributeError("in_paint Nell")

def in_slot():
    raise AttributeError("in_slot Nell")

def in_timer():
    raise AttributeError("in_timer Nell")

def in_thread():
    raise AttributeError("in_thread Nell")

def in_errand(step):
    raise AttributeError("in_errand Nell")

painted, button, refused = Painted(), QPushButton(), []
painted.show()
button.clicked.connect(in_slot)
work = Work(painted)
QTimer.singleShot(0, button.click)
QTimer.singleShot(0, in_timer)
QTimer.singleShot(0, lambda: threading.Thread(target=in_thread).start())
QTimer.singleShot(0, lambda: work.run("Working", in_errand, lambda _: None, refused.append, quiet=True))
def look():
    if len(told) == 5 and refused:
        text = (report_folder() / "reports.log").read_text()
        names = ("paintEvent", "in_slot", "in_timer", "in_thread", "in_errand")
        app.exit(0 if all(name in text for name in names) and "Nell" not in text else 3)
clock = QTimer(interval=20, timeout=look)
clock.start()
QTimer.singleShot(20_000, lambda: app.exit(4))
sys.exit(app.exec())
"""


@pytest.mark.parametrize("terminal", ["", "silent"])
def test_whatever_breaks_is_told_and_the_window_goes_on(terminal: str) -> None:
    variables = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, terminal], env=variables, check=False, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr


def test_one_message_stands_at_a_time(qtbot: QtBot) -> None:
    faults = Faults()
    faults._show(SENTENCE)
    first = faults.message
    assert first is not None
    assert not first.isModal()
    assert {each.text() for each in first.buttons()} == {"Open the report folder", "Go on"}
    faults._show(SENTENCE)
    assert faults.message is first
    first.close()
    assert faults.message is None
