"""Lets `python -m configurator` run the command line."""

from configurator.cli.main import run

if __name__ == "__main__":
    run()
