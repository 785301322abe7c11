"""The tests' own server stands, so that no test of the record passes for want of it."""

from tests.databases.postgresql import programs


def test_postgresql_is_installed_where_the_tests_run() -> None:
    assert programs() is not None, "install Debian's package postgresql"
