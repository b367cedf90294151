"""What to settle: findings, worst first, each with its proved fixes.

Hovering or focusing a fix previews it, pressing it applies it. Fixes are proved when the hands are still,
never during a drag.
"""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

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
        self._unproved: list[FindingRow] = []
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
            row = self._unproved.pop(0)
            row.show_fixes(self.session.session.fixes_of(row.finding))
            self._next.start()

    def _show(self, opened: Opened) -> None:
        while (item := self.rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        hidden = OFFICE_CHECKS if self.session.client_looks_on else frozenset()
        findings = opened.assessment.findings
        left = [each for each in findings if each.overruled_by is None and each.check not in hidden]
        self.heading.setText(f"What to settle ({len(left)})" if left else "Nothing left to settle")
        shown = [each for each in findings if each.check not in hidden]
        self._unproved = [FindingRow(self.session, self.theme, finding) for finding in shown]
        for row in self._unproved:
            self.rows.addWidget(row)


class FindingRow(QFrame):
    """One finding: mark, day, sentence; under it the fixes."""

    def __init__(self, session: QtSession, theme: Theme, finding: Finding) -> None:
        super().__init__()
        self.session = session
        self.finding = finding
        self.gestures = Gestures(session, self)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        where = f"Day {finding.day}" if finding.day else "Trip"
        self.setAccessibleName(f"{finding.level.value}, {where}: {finding.says}")
        mark = label(MARKS[finding.level])
        mark.setStyleSheet(f"color: {getattr(theme, TOKENS[finding.level])}; font-weight: 700;")
        mark.setFixedWidth(14)
        mark.setToolTip(finding.level.value)
        day = label(where)
        day.setStyleSheet("font-weight: 600;")
        day.setFixedWidth(round(52 * text_scale(self)))
        says = label(self._sentence(finding))
        says.setWordWrap(True)
        says.setToolTip(f"{finding.source}" if finding.source else "")
        row = QHBoxLayout()
        for widget, stretch in ((mark, 0), (day, 0), (says, 1)):
            row.addWidget(widget, stretch, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 6, 2, 6)
        column.setSpacing(4)
        column.addLayout(row)
        holder = QWidget()
        self.flow = FlowLayout(holder, indent=70)
        column.addWidget(holder)
        self._offer_to_let_stand()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setStyleSheet(
            f"FindingRow {{ border: none; border-bottom: 1px solid {theme.hairline}; }}"
            f"FindingRow:focus {{ border: 2px solid {theme.accent}; border-radius: 5px; }}"
        )

    @staticmethod
    def _sentence(finding: Finding) -> str:
        if finding.overruled_by is None:
            return finding.says
        return f"{finding.says} Let stand by {finding.overruled_by.name}: {finding.overruled_by.reason}"

    def show_fixes(self, fixes: tuple[ProvedFix, ...]) -> None:
        """Put the best of the proved fixes before the button that lets it stand."""
        while (item := self.flow.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for fix in fixes[:MOST_FIXES]:
            self.flow.addWidget(FixButton(self.session, fix))
        self._offer_to_let_stand()

    def select_day(self) -> None:
        """Go to the day the finding is about."""
        if self.finding.day:
            self.session.select(Selection(day=self.finding.day - 1, row="CHECKS"))

    def _offer_to_let_stand(self) -> None:
        finding = self.finding
        if finding.level is Level.STOP and finding.may_overrule and finding.overruled_by is None:
            stand = push_button("Let it stand…", lambda: self.gestures.let_stand(finding), "Name and reason")
            self.flow.addWidget(stand)

    # --- Qt overrides

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.select_day()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.select_day()
        else:
            super().keyPressEvent(event)


class FixButton(QPushButton):
    """One proved fix: previews while hovered or focused, applies when pressed."""

    def __init__(self, session: QtSession, fix: ProvedFix) -> None:
        super().__init__(fix.says)
        self.session = session
        self.fix = fix
        self.setToolTip(fix.result)
        self.setAccessibleName(f"{fix.says}: {fix.result}")
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
