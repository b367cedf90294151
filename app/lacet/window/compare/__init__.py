"""Variants side by side: told by letter and width of line, never by dots, which mean on foot."""
