"""Colours and sizes of the window, light and dark, in one place.

Every text colour meets WCAG 2.2 contrast (4.5 to 1) on the grounds it is used on; a test works the ratios
out. A way is told by its line as well (dotted on foot, unbroken by bike), a level by its word.
"""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from lacet.resources import resource


@dataclass(frozen=True, slots=True)
class Theme:
    """One set of colours, as hex text."""

    name: str
    paper: str
    panel: str
    raised: str
    hairline: str
    ink: str
    quiet: str
    accent: str
    on_accent: str
    selected: str
    foot: str
    foot_fill: str
    bike: str
    bike_fill: str
    stone: str
    stone_fill: str
    good: str
    good_fill: str
    warn: str
    warn_fill: str
    stop: str
    stop_fill: str
    sea: str
    night_fill: str

    def color(self, token: str) -> QColor:
        """The colour of a token."""
        return QColor(getattr(self, token))


LIGHT = Theme(
    name="light",
    paper="#fbfaf6",
    panel="#f1efe8",
    raised="#ffffff",
    hairline="#d9d5ca",
    ink="#1d2b33",
    quiet="#5a666d",
    accent="#24505c",
    on_accent="#ffffff",
    selected="#e3edee",
    foot="#a8481a",
    foot_fill="#f4e0d4",
    bike="#17618c",
    bike_fill="#d7e6ef",
    stone="#6d6a62",
    stone_fill="#e8e5dc",
    good="#2c6a45",
    good_fill="#dfeee3",
    warn="#8a5a00",
    warn_fill="#f7ebcf",
    stop="#a3231d",
    stop_fill="#f8dedb",
    sea="#dbe7ec",
    night_fill="#e6ece1",
)

DARK = Theme(
    name="dark",
    paper="#171d21",
    panel="#1f272c",
    raised="#262f35",
    hairline="#3b464d",
    ink="#eceae3",
    quiet="#a9b3b8",
    accent="#7fc1cd",
    on_accent="#10181b",
    selected="#2b3d44",
    foot="#f0a074",
    foot_fill="#46342a",
    bike="#84bfe6",
    bike_fill="#26404f",
    stone="#b0aca1",
    stone_fill="#343a3c",
    good="#8fd0a6",
    good_fill="#233a2d",
    warn="#e5bd63",
    warn_fill="#41361d",
    stop="#f39b93",
    stop_fill="#4a2725",
    sea="#1d2c34",
    night_fill="#2c372f",
)


def current_theme() -> Theme:
    """Light or dark, as the system is set."""
    scheme = QGuiApplication.styleHints().colorScheme()
    return DARK if scheme is Qt.ColorScheme.Dark else LIGHT


def apply_theme(app: QApplication, theme: Theme) -> None:
    """Dress the whole application in one theme."""
    app.setStyle("Fusion")
    app.setPalette(_palette(theme))
    app.setStyleSheet(_style_sheet(theme))


def _palette(theme: Theme) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for place, token in (
        (role.Window, "paper"),
        (role.WindowText, "ink"),
        (role.Base, "raised"),
        (role.AlternateBase, "panel"),
        (role.Text, "ink"),
        (role.Button, "panel"),
        (role.ButtonText, "ink"),
        (role.ToolTipBase, "raised"),
        (role.ToolTipText, "ink"),
        (role.PlaceholderText, "quiet"),
        (role.Highlight, "accent"),
        (role.HighlightedText, "on_accent"),
        (role.Link, "accent"),
        (role.Mid, "hairline"),
        (role.Midlight, "panel"),
        (role.Light, "raised"),
        (role.Dark, "stone"),
        (role.Shadow, "hairline"),
    ):
        palette.setColor(place, theme.color(token))
    for place in (role.Text, role.ButtonText, role.WindowText):
        palette.setColor(QPalette.ColorGroup.Disabled, place, theme.color("quiet"))
    return palette


def _picture(name: str) -> str:
    """The path of a small drawing, as a style sheet writes it on every system."""
    return Path(str(resource(f"window/{name}.svg"))).as_posix()


def _style_sheet(theme: Theme) -> str:
    line, raised, ink = theme.hairline, theme.raised, theme.ink
    fields = "QLineEdit, QComboBox, QSpinBox, QDoubleSpinBox, QDateEdit, QTimeEdit, QPlainTextEdit"
    focused = (
        "QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus, QSpinBox:focus, QDoubleSpinBox:focus, "
        "QTimeEdit:focus"
    )
    return f"""
    QToolTip {{ color: {ink}; background: {raised}; border: 1px solid {line}; padding: 4px; }}
    QFrame#panel {{ background: {theme.panel}; border: none; }}
    QFrame#raised {{ background: {raised}; border: 1px solid {line}; border-radius: 6px; }}
    QLabel#quiet {{ color: {theme.quiet}; }}
    QLabel#problem {{ color: {theme.stop}; }}
    QPushButton {{ background: {raised}; color: {ink}; border: 1px solid {line};
        border-radius: 5px; padding: 4px 12px; }}
    QPushButton:hover {{ background: {theme.selected}; }}
    QPushButton:focus {{ border: 2px solid {theme.accent}; padding: 3px 11px; }}
    QPushButton:checked {{ background: {theme.selected}; border-color: {theme.accent}; font-weight: 600; }}
    QPushButton#primary {{ background: {theme.accent}; color: {theme.on_accent};
        border-color: {theme.accent}; }}
    QPushButton:disabled, QPushButton#primary:disabled {{ color: {theme.quiet};
        background: {theme.panel}; border-color: {line}; }}
    {fields} {{ background: {raised}; color: {ink}; border: 1px solid {line};
        border-radius: 5px; padding: 3px 6px; }}
    {focused} {{ border: 2px solid {theme.accent}; padding: 2px 5px; }}
    QComboBox::drop-down {{ border: none; width: 20px; }}
    QComboBox::down-arrow, QSpinBox::down-arrow, QDoubleSpinBox::down-arrow, QTimeEdit::down-arrow,
    QDateEdit::down-arrow {{ image: url({_picture("down")}); width: 10px; height: 10px; }}
    QSpinBox::up-arrow, QDoubleSpinBox::up-arrow, QTimeEdit::up-arrow, QDateEdit::up-arrow {{
        image: url({_picture("up")}); width: 10px; height: 10px; }}
    QSpinBox::up-button, QSpinBox::down-button, QTimeEdit::up-button, QTimeEdit::down-button,
    QDoubleSpinBox::up-button, QDoubleSpinBox::down-button,
    QDateEdit::up-button, QDateEdit::down-button {{ border: none; width: 18px; }}
    QTableView {{ background: {theme.paper}; gridline-color: {line}; border: none; }}
    QHeaderView::section {{ background: {theme.paper}; color: {theme.quiet}; border: none;
        border-bottom: 1px solid {line}; padding: 2px 8px; }}
    QSplitter::handle {{ background: {line}; }}
    QScrollBar {{ background: {theme.panel}; width: 10px; height: 10px; border: none; }}
    QScrollBar::handle {{ background: {theme.stone}; border-radius: 3px; margin: 2px; min-width: 24px;
        min-height: 24px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    QToolButton {{ background: {raised}; color: {ink}; border: 1px solid {line}; border-radius: 5px;
        padding: 3px 8px; }}
    QToolButton:hover {{ background: {theme.selected}; }}
    QToolButton:checked {{ background: {theme.selected}; border-color: {theme.accent}; }}
    QToolButton:focus {{ border: 2px solid {theme.accent}; padding: 2px 7px; }}
    QToolButton#primary {{ background: {theme.accent}; color: {theme.on_accent}; padding-right: 16px; }}
    QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
    QListWidget {{ background: {raised}; border: 1px solid {line}; border-radius: 5px; }}
    QListWidget::item {{ padding: 3px 6px; }}
    QListWidget::item:selected {{ background: {theme.accent}; color: {theme.on_accent}; }}
    QListWidget:focus {{ border: 2px solid {theme.accent}; }}
    QToolButton:disabled {{ color: {theme.stone}; }}
    QPushButton:flat {{ border: none; background: transparent; text-align: left; }}
    QPushButton:flat:hover {{ background: {theme.selected}; }}
    """
