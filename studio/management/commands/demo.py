"""Show the service with an invented studio."""

import os
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from studio.demo import demo_people, load_demo
from studio.management.commands.serve import collect_static, run
from studio.management.database import migrate
from studio.models import Person, Studio


class Command(BaseCommand):
    help = "Load an invented studio into an empty data folder, print its log-ins, and serve it on 127.0.0.1."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--tiles", type=int, metavar="N", help="fill the wall up to N tiles with copies")
        parser.add_argument("--no-serve", action="store_true", help="load only")

    def handle(self, *args: Any, **options: Any) -> None:
        migrate()
        studio = Studio.objects.first()
        if (studio is None and Person.objects.exists()) or (studio and not studio.is_demo):
            raise CommandError(
                "This data folder holds a real studio, and the demo is never mixed into one. "
                "Name another folder in TILEKEEP_DATA_DIR."
            )
        if studio:
            self.stdout.write("The demo studio is here already; nothing was loaded.")
        else:
            self.stdout.write("Loading the demo studio and drawing its tiles: about a minute ...")
            load_demo(tiles=options["tiles"])
        address = f"http://127.0.0.1:{options['port']}"
        self.stdout.write(f"\n{Studio.current().name} is at {address}/\n\nLog in as")
        for person in demo_people():
            self.stdout.write(
                f"  {person['role']:<11} {person['username']:<9} {person['password']}   PIN {person['pin']}"
            )
        if options["no_serve"]:
            return
        collect_static()
        # The demo's labels point at the demo itself, unless an address was set.
        if not settings.PUBLIC_URL:
            os.environ["TILEKEEP_PUBLIC_URL"] = address
        self.stdout.write("\nStop with Ctrl-C.")
        run(f"127.0.0.1:{options['port']}")
