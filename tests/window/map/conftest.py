"""The map's engine wants this set before the application is made, which pytest-qt does for the first test."""

from PySide6.QtCore import QCoreApplication, Qt

QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
