"""Is the database ready, and making it so."""

from pathlib import Path

from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor


def waiting_migrations() -> list[str]:
    """Names of the migrations that this version brings and the database has not seen."""
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return [str(migration) for migration, _backwards in plan]


def migrate() -> None:
    """Bring the database up to date; a SQLite file is kept to its owner."""
    call_command("migrate", interactive=False, verbosity=0)
    file = Path(str(connection.settings_dict["NAME"]))
    if connection.vendor == "sqlite" and file.is_file():
        file.chmod(0o600)
