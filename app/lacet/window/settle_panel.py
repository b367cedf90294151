"""What to settle: a line for each cause, worst first, with the proved fixes of the findings it is made of.

A line of several findings opens to them.

Hovering or focusing a fix previews it, pressing it applies it. Fixes are proved when the hands are still,
never during a drag.
"""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from lacet.checks.gathered import Gathered, gathered
from lacet.language import Text, to_count, to_say
from lacet.service.eyes import OFFICE_CHECKS
from lacet.service.shown import Opened, Selection
from lacet.trip.finding import Finding, Level, ProvedFix
from lacet.window.flow_layout import FlowLayout
from lacet.window.gestures import Gestures
from lacet.window.parts import label, push_button, text_scale
from lacet.window.qt_session import QtSession
from lacet.window.theme import Theme, current_theme

PROVE_AFTER_MS = 250
MOST_FIXES = 3
DAYS_WIDTH = 62
MARKS = {Level.STOP: "■", Level.WARN: "!", Level.NOTE: "·"}
TOKENS = {Level.STOP: "stop", Level.WARN: "warn", Level.NOTE: "quiet"}


class SettlePanel(QFrame):
    """The list; one `FindingRow` each."""

    def __init__(self, session: QtSession) -> None:
        super().__init__()
        self.session = session
        self.theme = current_theme()
        self.heading = label("What to settle", name="What to settle")
        self.heading.setStyleSheet("font-weight: 600;")
        self.rows = QVBoxLayout()
        self.rows.setContentsMargins(8, 0, 8, 8)
        self.rows.setSpacing(0)
        inner = QWidget()
        outer = QVBoxLayout(inner)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addLayout(self.rows)
        outer.addStretch(1)
        scroll = QScrollArea()
        scroll.setAccessibleName("Findings")
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(inner)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        head = QHBoxLayout()
        head.setContentsMargins(10, 6, 10, 0)
        head.addWidget(self.heading)
        head.addStretch(1)
        column.addLayout(head)
        column.addWidget(scroll, 1)
        self._prove = QTimer(self, singleShot=True, interval=PROVE_AFTER_MS)
        self._prove.timeout.connect(self.prove_now)
        self._next = QTimer(self, singleShot=True, interval=0)
        self._next.timeout.connect(self._prove_next)
        self._unproved: list[tuple[CauseRow, Finding]] = []
        session.changed.connect(lambda _: self.refresh())
        session.client_looks.connect(lambda _: self.refresh())

    def refresh(self) -> None:
        """Show the findings of what is open; their fixes follow when the hands are still."""
        self._next.stop()
        if self.session.opened is not None:
            self._show(self.session.opened)
            self._prove.start()

    def prove_now(self) -> None:
        """Prove the fixes, one finding a turn of the event loop, so that the window stays awake."""
        self._next.start()

    def _prove_next(self) -> None:
        if self._unproved:
            row, finding = self._unproved.pop(0)
            row.add_fixes(self.session.session.fixes_of(finding))
            self._next.start()

    def _show(self, opened: Opened) -> None:
        while (item := self.rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        hidden = OFFICE_CHECKS if self.session.client_looks_on else frozenset()
        shown = [each for each in opened.assessment.findings if each.check not in hidden]
        lines = gathered(shown)
        left = [line for line in lines if line.overruled_by is None]
        self.heading.setText(f"What to settle ({len(left)})" if left else "Nothing left to settle")
        rows = [CauseRow(self.session, self.theme, line) for line in lines]
        self._unproved = [(row, finding) for row in rows for finding in row.line.whole]
        for row in rows:
            self.rows.addWidget(row)


class CauseRow(QFrame):
    """One cause: mark, days, sentence; under it the fixes, and opened the findings it is made of."""

    def __init__(self, session: QtSession, theme: Theme, line: Gathered) -> None:
        super().__init__()
        self.session = session
        self.line = line
        self.gestures = Gestures(session, self)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        speech = session.session.speech
        where, sentence = speech.sentence(_where(line.days)), self._sentence()
        self.setAccessibleName(f"{line.level.value}, {where}: {sentence}")
        mark = label(MARKS[line.level])
        mark.setStyleSheet(f"color: {getattr(theme, TOKENS[line.level])}; font-weight: 700;")
        mark.setFixedWidth(14)
        mark.setToolTip(line.level.value)
        day = label(where)
        day.setStyleSheet("font-weight: 600;")
        day.setWordWrap(True)
        day.setFixedWidth(round(DAYS_WIDTH * text_scale(self)))
        says = label(sentence)
        says.setWordWrap(True)
        says.setToolTip(line.parts[0].source)
        row = QHBoxLayout()
        for widget, stretch in ((mark, 0), (day, 0), (says, 1)):
            row.addWidget(widget, stretch, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 6, 2, 6)
        column.setSpacing(4)
        column.addLayout(row)
        self._fixes: dict[str, ProvedFix] = {}
        holder = QWidget()
        self.flow = FlowLayout(holder, indent=70)
        column.addWidget(holder)
        self.inside = self._parts()
        column.addWidget(self.inside)
        self._offer()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setStyleSheet(
            f"CauseRow {{ border: none; border-bottom: 1px solid {theme.hairline}; }}"
            f"CauseRow:focus {{ border: 2px solid {theme.accent}; border-radius: 5px; }}"
        )

    def _sentence(self) -> str:
        says, decided = self.session.session.speech.sentence(self.line.says), self.line.overruled_by
        return says if decided is None else f"{says} Let stand by {decided.name}: {decided.reason}"

    def _parts(self) -> QWidget:
        """The findings it is made of, each with the button that lets it stand."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(70, 0, 0, 0)
        speech = self.session.session.speech
        for finding in self.line.whole:
            where = speech.sentence(_where(() if finding.day is None else (finding.day,)))
            text = label(f"{MARKS[finding.level]} {where}: {speech.sentence(finding.says)}")
            text.setWordWrap(True)
            column.addWidget(text)
            if _may_stand(finding):
                column.addWidget(self._stand_button(finding), 0, Qt.AlignmentFlag.AlignLeft)
        inside.hide()
        return inside

    def add_fixes(self, fixes: tuple[ProvedFix, ...]) -> None:
        """Offer the best of all that was proved so far, each once, before the other buttons."""
        for fix in fixes:
            self._fixes.setdefault(str(fix.says), fix)
        while (item := self.flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        best = sorted(self._fixes.values(), key=lambda fix: -fix.settles)
        for fix in best[:MOST_FIXES]:
            self.flow.addWidget(FixButton(self.session, fix))
        self._offer()

    def select_day(self) -> None:
        """Go to the first day it shows on."""
        if self.line.days:
            self.session.select(Selection(day=self.line.days[0] - 1, row="CHECKS"))

    def _offer(self) -> None:
        """What else can be done: open a line of several, let a single one stand."""
        whole = self.line.whole
        if len(whole) > 1:
            shut = self.inside.isHidden()
            says = f"Show all {len(whole)}" if shut else "Show less"
            self.flow.addWidget(push_button(says, self._open_or_shut, "The findings this line is made of"))
        elif _may_stand(whole[0]):
            self.flow.addWidget(self._stand_button(whole[0]))

    def _open_or_shut(self) -> None:
        self.inside.setVisible(self.inside.isHidden())
        self.add_fixes(())

    def _stand_button(self, finding: Finding) -> QPushButton:
        return push_button("Let it stand…", lambda: self.gestures.let_stand(finding), "Name and reason")

    # --- Qt overrides

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.select_day()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.select_day()
        else:
            super().keyPressEvent(event)


def _may_stand(finding: Finding) -> bool:
    return finding.level is Level.STOP and finding.may_overrule and finding.overruled_by is None


def _where(days: tuple[int, ...]) -> Text:
    return to_count("day {days:days}", "days {days:days}", len(days), days=days) if days else to_say("trip")


class FixButton(QPushButton):
    """One proved fix: previews while hovered or focused, applies when pressed."""

    def __init__(self, session: QtSession, fix: ProvedFix) -> None:
        speech = session.session.speech
        self.says, result = speech.say(fix.says), speech.say(fix.result)
        super().__init__(self.says)
        self.session = session
        self.fix = fix
        self.setToolTip(result)
        self.setAccessibleName(f"{self.says}: {result}")
        self.clicked.connect(partial(self._on_pressed))
        self.installEventFilter(self)

    def _on_pressed(self, _: bool = False) -> None:
        self.session.take(self.fix)

    # --- Qt overrides

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        inner = self.session.session
        begins: dict[QEvent.Type, Callable[[], None]] = {
            QEvent.Type.Enter: lambda: inner.start_preview(self.fix.edit, self, self.fix.act),
            QEvent.Type.FocusIn: lambda: inner.start_preview(self.fix.edit, self, self.fix.act),
            QEvent.Type.Leave: lambda: inner.stop_preview(self),
            QEvent.Type.FocusOut: lambda: inner.stop_preview(self),
        }
        if (act := begins.get(event.type())) is not None:
            act()
        return super().eventFilter(watched, event)
