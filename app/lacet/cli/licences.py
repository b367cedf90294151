"""`lacet licences`: whose packages Lacet stands on, and the texts of their licences."""

import argparse

from lacet.cli.telling import print_table, say
from lacet.licences import Licensed, licences
from lacet.service.opening import NotFound


def show(arguments: argparse.Namespace) -> None:
    """A table of all packages, or everything the notice holds of one."""
    packages = licences()
    if arguments.package is None:
        _tell(packages)
        return
    found = next((each for each in packages if each.package == arguments.package.lower()), None)
    if found is None:
        raise NotFound(
            "{package} is none of these packages; 'lacet licences' lists them.", package=arguments.package
        )
    for line in found.text.splitlines():
        say(line)


def _tell(packages: tuple[Licensed, ...]) -> None:
    rows = [(each.package, each.versions, each.licence) for each in packages]
    print_table("What Lacet stands on", ("package", "version", "licence"), rows)
    say("Lacet itself is under the MIT licence. 'lacet licences PACKAGE' shows the texts of one package.")
