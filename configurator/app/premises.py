"""What all screens share: the opened premises and the clock."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from threading import Thread

import streamlit as st

from configurator.record.addresses import DATABASE_VARIABLE
from configurator.record.database import Record, open_record
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.warming import warm_engines


def folders(arguments: Sequence[str]) -> tuple[Path, Path]:
    """Read the catalog folder and the data folder from what follows `--` on the command line.

    Examples
    --------
    >>> [folder.as_posix() for folder in folders(["--catalog", "mine", "--data", "record"])]
    ['mine', 'record']
    """
    parser = argparse.ArgumentParser(add_help=False, allow_abbrev=False)
    parser.add_argument("--catalog", type=Path, default=Path("catalog"))
    parser.add_argument("--data", type=Path, default=Path("outputs"))
    known, _ = parser.parse_known_args(list(arguments))
    return known.catalog, known.data


def premises() -> Premises:
    """Open the premises, once for all screens of this process.

    Raises
    ------
    ConfiguratorError
        If the catalog or the record cannot be used; the next run tries again.
    """
    return _opened(*_resolved_folders(tuple(sys.argv[1:])))


def record() -> Record:
    """Open the record alone: whoever logs in needs no catalog.

    Raises
    ------
    RecordError
        If it cannot be used; the next run tries again.
    """
    return _record(_resolved_folders(tuple(sys.argv[1:]))[1])


def now() -> datetime:
    """Read the clock [UTC]."""
    return datetime.now(UTC)


@lru_cache(maxsize=8)
def _resolved_folders(arguments: tuple[str, ...]) -> tuple[str, str]:
    catalog_folder, data_folder = folders(arguments)
    return str(catalog_folder.resolve()), str(data_folder.resolve())


@st.cache_resource(show_spinner=False)
def _record(data_folder: str) -> Record:
    return open_record(Path(data_folder), os.environ.get(DATABASE_VARIABLE))


@st.cache_resource(show_spinner="Opening the workshop …")
def _opened(catalog_folder: str, data_folder: str) -> Premises:
    opened = open_premises(
        Path(catalog_folder), Path(data_folder), os.environ.get(DATABASE_VARIABLE)
    )
    Thread(target=_warm, args=(opened,), daemon=True).start()
    return opened


def _warm(opened: Premises) -> None:
    """Answer what each talk opens with; what is then in memory stays.

    Looking for memory to free need not go through the catalog and the engines again and again.
    """
    warm_engines(opened, now().date())
    gc.collect()
    gc.freeze()
