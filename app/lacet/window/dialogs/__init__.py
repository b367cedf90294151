"""Dialogs. Each has a class method `ask` that returns plain values, or None when it was put away."""
