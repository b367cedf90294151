"""Runs the real window for a test that holds a real mouse: answers on standard output where things are.

Each line on standard input is a question (`stage TITLE`, `gap N`, `day N`, `edge ITEM`, `state`, `quit`);
each answer is one line of JSON. Positions are those of the screen.
"""

import json
import sys
from pathlib import Path
from typing import Any

from PySide6.QtCore import QPoint, QSocketNotifier, QTimer
from PySide6.QtWidgets import QWidget

from lacet.trip.trip import Leg
from lacet.window import app as application
from lacet.window.main_window import MainWindow

ANSWER_AFTER_MS = 15


def on_screen(widget: QWidget, point: QPoint) -> list[int]:
    there = widget.mapToGlobal(point)
    return [there.x(), there.y()]


class Answers:
    """Answers about one window."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window

    def answer(self, question: str) -> Any:
        word, _, rest = question.partition(" ")
        found: Any = getattr(self, f"_{word}")(rest)
        return found

    def _stage(self, title: str) -> Any:
        """The middle of a shelf entry."""
        shelf = self.window.shelf
        for row, entry in enumerate(shelf.model.entries):
            if entry.text == title:
                index = shelf.model.index(row)
                shelf.list.scrollTo(index)
                rect = shelf.list.visualRect(index)
                return on_screen(shelf.list.viewport(), rect.center())
        return None

    def _gap(self, number: str) -> Any:
        view = self.window.sheet.view
        edges = view.geometry_of_days().edges
        x = edges[min(int(number), len(edges) - 1)] if edges else 40.0
        return on_screen(view.viewport(), QPoint(int(x) + (2 if int(number) == 0 else -2), 20))

    def _day(self, number: str) -> Any:
        view = self.window.sheet.view
        edges = view.geometry_of_days().edges
        day = int(number)
        return on_screen(view.viewport(), QPoint(int((edges[day] + edges[day + 1]) / 2), 60))

    def _head(self, number: str) -> Any:
        """The head of a day's column."""
        days = self.window.sheet.view.days
        edges = self.window.sheet.view.geometry_of_days().edges
        x = int((edges[int(number)] + edges[int(number) + 1]) / 2)
        return on_screen(days.viewport(), QPoint(x, days.height() // 2))

    def _stay(self, number: str) -> Any:
        """The right edge of the stay that begins on a day."""
        view = self.window.sheet.view
        return on_screen(view.viewport(), view.stay_edge(int(number)))

    def _state(self, _: str) -> Any:
        opened = self.window.session.opened
        assert opened is not None
        shown = self.window.sheet.model.table
        return {
            "stages": [
                [item.stage.id if isinstance(item, Leg) else None for item in day.items]
                for day in opened.variant.days
            ],
            "nights": [[night.lodging.id for night in day.nights] for day in opened.variant.days],
            "revision": opened.revision,
            "shown_days": shown.columns[-1].day + 1 if shown and shown.columns else 0,
            "undo": opened.position.undo_says,
            "tried": self.window.session.session.preview is not None,
        }

    def _button(self, name: str) -> Any:
        for widget in self.window.findChildren(QWidget):
            if widget.accessibleName() == name and widget.isVisible():
                return on_screen(widget, widget.rect().center())
        return None


def main() -> int:
    app = application.make_application(["lacet"])
    window = application.open_window(Path(sys.argv[1]))
    window.setGeometry(0, 0, 1280, 800)
    window.show()
    answers = Answers(window)

    def read() -> None:
        question = sys.stdin.readline().strip()
        if question in ("", "quit"):
            window.close()
            app.quit()
            return
        # Answered a moment later, so that one who keeps asking doesn't keep the mouse waiting.
        QTimer.singleShot(ANSWER_AFTER_MS, lambda: print(json.dumps(answers.answer(question)), flush=True))

    notifier = QSocketNotifier(sys.stdin.fileno(), QSocketNotifier.Type.Read)
    notifier.activated.connect(lambda *_: read())

    def tell_ready() -> None:
        """Plot and map are there, which takes longer than the window but less than a person."""
        plot, mapped = window.sheet.view.profile.plot, window.map
        there = plot is not None and (mapped.ready or mapped.sentence.text())
        if there:
            print(json.dumps("ready"), flush=True)
        else:
            QTimer.singleShot(ANSWER_AFTER_MS, tell_ready)

    tell_ready()
    return app.exec()


if __name__ == "__main__":
    sys.exit(main())
