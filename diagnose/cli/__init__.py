"""The command line."""


def main() -> None:
    """Run the command line; the entry point of the installed program."""
    from diagnose.cli.app import run

    run()
