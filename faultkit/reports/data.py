"""The report as data for JSON."""

import re
from dataclasses import fields, is_dataclass
from math import isfinite
from typing import Any

from faultkit.reports.records import Fact, Report

REPORT_SCHEMA = 1
"""Raised when a field changes its meaning or goes."""


def as_data(report: Report) -> dict[str, Any]:
    """Everything in the report, keys in the order of its records.

    Facts are objects with `label` and `text`; points and parts of a run say which they are.
    """
    data: dict[str, Any] = {"schema_version": REPORT_SCHEMA, "kind": "report"}
    data.update(_plain(report))
    return data


def _plain(value: object) -> Any:  # noqa: ANN401 - JSON has no narrower type
    if is_dataclass(value) and not isinstance(value, type):
        data = {one.name: _plain(getattr(value, one.name)) for one in fields(value)}
        if type(value).__name__ in ("Point", "Part"):
            data = {"is": type(value).__name__.lower(), **data}
        return data
    if isinstance(value, Fact):
        return value._asdict()
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    if isinstance(value, float):
        return float(f"{value:.6g}") if isfinite(value) else None
    return value


def file_name(report: Report, ending: str) -> str:
    """A name for the file of a report: the job's id with nothing that a path could mean."""
    return f"report-{re.sub(r'[^0-9A-Za-z]', '', report.job)[:12] or 'job'}.{ending}"
