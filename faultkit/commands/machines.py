"""`faultkit machines`: what is bundled and what was added."""

from argparse import ArgumentParser, Namespace
from dataclasses import dataclass

from faultkit.commands.output import FINE, SCHEMA_VERSION, write_json

SAYS = "list the machines that are bundled or were added"


@dataclass(frozen=True, slots=True)
class Listed:
    """One machine in the list."""

    name: str
    origin: str
    """`bundled` or `added`."""
    path: str
    title: str
    says: str
    loads: bool


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(arguments: Namespace) -> int:
    """List them."""
    machines = listed()
    if arguments.format == "json":
        write_json({"schema_version": SCHEMA_VERSION, "machines": [
            {"name": one.name, "title": one.title, "says": one.says, "origin": one.origin,
             "path": one.path, "loads": one.loads} for one in machines]})
        return FINE
    width = max((len(one.name) for one in machines), default=0)
    for one in machines:
        state = one.title if one.loads else f"does not load: faultkit check {one.name}"
        print(f"{one.name:<{width}}  {one.origin:<7}  {state}")
    return FINE


def listed() -> tuple[Listed, ...]:
    """Every machine that can be named, sorted; an added one hides a bundled one."""
    from faultkit.errors import FaultkitError
    from faultkit.loading import bundled_machines, load
    from faultkit.loading.find import user_machines

    added = user_machines()
    found = []
    for name, path in sorted({**bundled_machines(), **added}.items()):
        try:
            machine = load(path).machine
        except FaultkitError:
            machine = None
        found.append(Listed(
            name=name, origin="added" if name in added else "bundled", path=str(path),
            title=machine.title if machine else "", says=machine.says if machine else "",
            loads=machine is not None))
    return tuple(found)
