"""The wheel scrolls a page; it changes a value only in a field that a person clicked into.

Without this a form that is scrolled under the pointer answers questions that nobody was asked. Each field is
watched on its own: one filter for the whole application would wrap every object of the browser engine too,
and ends in a crash.
"""

from PySide6.QtCore import QChildEvent, QEvent, QObject, Qt
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QLineEdit,
    QScrollBar,
    QTabBar,
    QWidget,
)

GUARDED = (QAbstractSpinBox, QComboBox, QAbstractSlider, QTabBar)
_CLICKED = "lacet_clicked"
# A list or a menu that drops down takes the keyboard for a moment; the field is still the one clicked into.
_FOR_A_MOMENT = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)


class WheelGuard(QObject):
    """Lets the wheel reach a field only after a click into it, until the keyboard goes elsewhere."""

    def __init__(self, field: QWidget) -> None:
        super().__init__(field)
        self._watch(field)
        for line in field.findChildren(QLineEdit):
            self._watch(line)

    def _watch(self, widget: QWidget) -> None:
        widget.installEventFilter(self)
        _take_no_focus_by_wheel(widget)

    # --- Qt overrides

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        kind = event.type()
        if kind == QEvent.Type.Wheel:
            field = guarded_field(watched)
            if field is not None and not field.property(_CLICKED):
                # Left unaccepted, it goes on to what stands around the field and scrolls that.
                event.ignore()
                return True
        elif kind == QEvent.Type.MouseButtonPress:
            _mark(watched, True)
        elif kind == QEvent.Type.FocusOut and isinstance(event, QFocusEvent):
            if event.reason() not in _FOR_A_MOMENT:
                _mark(watched, False)
        elif kind == QEvent.Type.Polish:
            _take_no_focus_by_wheel(watched)
        elif isinstance(event, QChildEvent) and event.polished() and isinstance(event.child(), QLineEdit):
            # A list that becomes editable gets its line then.
            event.child().installEventFilter(self)
        return False


def guard_wheel(field: QWidget) -> None:
    """Guard one field for as long as it lives."""
    WheelGuard(field)


def guarded_field(watched: QObject) -> QWidget | None:
    """The field an event would change: the widget itself, or the one whose line the widget is."""
    parent = watched.parent() if isinstance(watched, QWidget) else None
    for each in (watched, parent):
        if isinstance(each, GUARDED) and not isinstance(each, QScrollBar):
            return each
    return None


def _mark(watched: QObject, clicked: bool) -> None:
    field = guarded_field(watched)
    if field is not None:
        field.setProperty(_CLICKED, clicked)


def _take_no_focus_by_wheel(watched: QObject) -> None:
    """Qt would give a field the keyboard as soon as the wheel turns over it."""
    if isinstance(watched, GUARDED) and watched.focusPolicy() == Qt.FocusPolicy.WheelFocus:
        watched.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
