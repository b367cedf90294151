"""Who is at work, as the system knows them: noted beside what was booked."""

import getpass


def who() -> str:
    """The name somebody is logged in by; '' where the system doesn't tell."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return ""
