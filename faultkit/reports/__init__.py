"""The report on a job: one document that can be signed.

Events become text and figures (`build_report`), and these become Markdown, one HTML page, or
data for JSON.
"""

from faultkit.reports.build import build_report
from faultkit.reports.data import as_data
from faultkit.reports.markdown import as_markdown
from faultkit.reports.page import as_html
from faultkit.reports.records import Report

__all__ = ["Report", "as_data", "as_html", "as_markdown", "build_report"]
