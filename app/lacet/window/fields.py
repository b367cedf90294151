"""Fields whose value the wheel can't change by the way; every form makes its fields of these."""

from typing import Any

from PySide6.QtWidgets import QComboBox, QDateEdit, QDoubleSpinBox, QSpinBox, QTabWidget, QTimeEdit

from lacet.window.wheel import guard_wheel


class ComboBox(QComboBox):
    """A list to choose from."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self)


class SpinBox(QSpinBox):
    """A whole number."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self)


class DoubleSpinBox(QDoubleSpinBox):
    """A number with decimals."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self)


class DateEdit(QDateEdit):
    """A day."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self)


class TimeEdit(QTimeEdit):
    """A time of day."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self)


class TabWidget(QTabWidget):
    """Pages behind tabs."""

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        guard_wheel(self.tabBar())
