"""The island of Verrin as a project: built from the readable sources that ship with the program."""

from lacet.demo.building import demo_bookings, demo_items, demo_tracks, demo_trips, write_demo

__all__ = ["demo_bookings", "demo_items", "demo_tracks", "demo_trips", "write_demo"]
