"""Numbers with units: written by an author, typed by an electrician, shown on a screen."""

from faultkit.vocabulary.quantities.numbers import parse_quantity, parse_range
from faultkit.vocabulary.quantities.readings import parse_reading, show_reading
from faultkit.vocabulary.quantities.showing import show

__all__ = ["parse_quantity", "parse_range", "parse_reading", "show", "show_reading"]
