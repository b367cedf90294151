"""What to settle: findings, worst first, each with its proved fixes.

Hovering or focusing a fix previews it, pressing it applies it. Fixes are proved when the hands are still,
never during a drag.
"""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from lacet.session import Opened, Selection
from lacet.trip.finding import Finding, Level, ProvedFix
from lacet.window.flow_layout import FlowLayout
from lacet.window.gestures import Gestures
from lacet.window.parts import label, push_button
from lacet.window.price.eyes import OFFICE_CHECKS
from lacet.window.qt_session import QtSession
from lacet.window.theme import Theme, current_theme

PROVE_AFTER_MS = 250
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
        session.changed.connect(self._on_changed)
        session.client_looks.connect(lambda _: self.prove_now())

    def _on_changed(self, opened: Opened) -> None:
        self._show(opened, ())
        self._prove.start()

    def prove_now(self) -> None:
        """Prove the fixes of what is open and show them."""
        opened = self.session.opened
        if opened is not None:
            self._show(opened, self.session.session.fixes())

    def _show(self, opened: Opened, proved: tuple[tuple[ProvedFix, ...], ...]) -> None:
        while (item := self.rows.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        hidden = OFFICE_CHECKS if self.session.client_looks_on else frozenset()
        findings = opened.assessment.findings
        left = [each for each in findings if each.overruled_by is None and each.check not in hidden]
        self.heading.setText(f"What to settle ({len(left)})" if left else "Nothing left to settle")
        for index, finding in enumerate(findings):
            if finding.check in hidden:
                continue
            fixes = proved[index] if index < len(proved) else ()
            self.rows.addWidget(FindingRow(self.session, self.theme, finding, fixes))


class FindingRow(QFrame):
    """One finding: mark, day, sentence; under it the fixes."""

    def __init__(
        self, session: QtSession, theme: Theme, finding: Finding, fixes: tuple[ProvedFix, ...]
    ) -> None:
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
        day.setFixedWidth(52)
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
        column.addWidget(self._fixes(fixes))
        self.setStyleSheet(f"FindingRow {{ border: none; border-bottom: 1px solid {theme.hairline}; }}")

    @staticmethod
    def _sentence(finding: Finding) -> str:
        if finding.overruled_by is None:
            return finding.says
        return f"{finding.says} Let stand by {finding.overruled_by.name}: {finding.overruled_by.reason}"

    def _fixes(self, fixes: tuple[ProvedFix, ...]) -> QWidget:
        holder = QWidget()
        flow = FlowLayout(holder, indent=70)
        for fix in fixes[:3]:
            flow.addWidget(FixButton(self.session, fix))
        finding = self.finding
        if finding.level is Level.STOP and finding.may_overrule and finding.overruled_by is None:
            stand = push_button("Let it stand…", lambda: self.gestures.let_stand(finding), "Name and reason")
            flow.addWidget(stand)
        return holder

    # --- Qt overrides

    def mousePressEvent(self, event: object) -> None:
        if self.finding.day:
            self.session.select(Selection(day=self.finding.day - 1, row="CHECKS"))


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
        self.session.apply(self.fix.edit, self.fix.says)

    # --- Qt overrides

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        inner = self.session.session
        begins: dict[QEvent.Type, Callable[[], None]] = {
            QEvent.Type.Enter: lambda: inner.start_preview(self.fix.edit, self),
            QEvent.Type.Leave: lambda: inner.stop_preview(self),
            QEvent.Type.FocusOut: lambda: inner.stop_preview(self),
        }
        if (act := begins.get(event.type())) is not None:
            act()
        return super().eventFilter(watched, event)
