"""`lacet region` and `lacet new`: how a project's region reckons, and a project to fill."""

import argparse
from dataclasses import replace
from typing import Any

from lacet.cli.telling import print_json, print_table, say
from lacet.days.region import accepted, checked, country_names, emergency_number, proposed, zone_doubt
from lacet.service.opening import make_project, project_at
from lacet.trip.plain import to_plain
from lacet.trip.region import Region
from lacet.wording import UNKNOWN


def region(arguments: argparse.Namespace) -> None:
    """Show what is set and what is proposed, after setting what was named."""
    with project_at(arguments.project) as project:
        catalogue = project.catalogue()
        offer = proposed(catalogue)
        now = named(catalogue.region, arguments)
        if arguments.accept:
            now = accepted(now, offer)
        doubt = zone_doubt(now, catalogue)
        if now != catalogue.region:
            with project.unit_of_work() as unit:
                unit.settings.save(checked(now))
                unit.commit()
    if arguments.json:
        told = {"region": to_plain(now), "proposed": to_plain(offer), "unset": list(now.unset())}
        print_json(told | {"doubt": doubt})
    else:
        _tell(now, offer)
        if doubt:
            say(doubt)


def new(arguments: argparse.Namespace) -> None:
    """Make an empty project and print its path."""
    make_project(arguments.file, checked(named(Region(), arguments)))
    say(str(arguments.file))


def named(region: Region, arguments: argparse.Namespace) -> Region:
    """A region with what was typed; an empty text takes back what was set."""
    changes: dict[str, Any] = {}
    if arguments.zone is not None:
        changes["zone"] = arguments.zone.strip() or None
    if arguments.currency is not None:
        changes["currency"] = arguments.currency.strip().upper() or None
    if arguments.country is not None:
        typed = arguments.country.strip()
        changes["country"] = (typed.upper() if len(typed) == 2 else typed) or None
        changes["subdivision"] = ""
    if arguments.part is not None:
        changes["subdivision"] = arguments.part.strip()
    if arguments.emergency is not None:
        changes["emergency_numbers"] = tuple(map(emergency_number, filter(str.strip, arguments.emergency)))
    return replace(region, **changes)


def _tell(now: Region, offer: Region) -> None:
    rows = [
        ("time zone", now.zone, offer.zone),
        ("currency", now.currency, offer.currency),
        ("country", _country(now), None if now.holidays_set else _country(offer)),
        ("emergency", _numbers(now), _numbers(offer)),
        ("temperatures", _temperatures(now), None),
    ]
    print_table(
        "",
        ("Region", "Set", "Proposed"),
        ((what, told or "not set", "" if told else offered or UNKNOWN) for what, told, offered in rows),
    )
    if now.unset():
        say(f"Not set: {', '.join(now.unset())}; what rests on it isn't proved.")
    if accepted(now, offer) != now:
        say("'--accept' takes what is proposed.")


def _country(region: Region) -> str | None:
    if region.holidays:
        return f"{len(region.holidays)} holidays of its own"
    if region.country is None:
        return None
    part = f", {region.subdivision}" if region.subdivision else ""
    return f"{region.country} ({country_names().get(region.country, '')}{part})"


def _numbers(region: Region) -> str | None:
    return ", ".join(f"{each.number} {each.what_for}".strip() for each in region.emergency_numbers) or None


def _temperatures(region: Region) -> str | None:
    if all(each is None for each in region.monthly_temperature_c):
        return None
    said = " ".join(UNKNOWN if each is None else f"{each:g}" for each in region.monthly_temperature_c)
    height = region.temperature_height_m
    return f"{said} °C" + ("" if height is None else f" at {height:g} m")
