"""What goes with each meter: minutes of a test, and what the electrician is told to do."""

from faultkit.vocabulary.diagnosis import Meter

MINUTES: dict[Meter, float] = {
    "V AC": 1.0, "V DC": 1.0, "V AC low": 1.0, "V DC low": 1.0, "ohm": 1.5, "mA": 3.0,
    "clamp A": 1.5, "Mohm": 3.0, "seconds": 2.0, "mm": 12.0, "Hz": 1.5, "words": 0.5,
}
"""Minutes of a test by its meter; common practice, no source."""

MEASURES: dict[Meter, str] = {
    "V AC": "Measure the AC voltage from {a} to {b}",
    "V DC": "Measure the DC voltage from {a} (red) to {b}",
    "V AC low": "Measure the AC voltage from {a} to {b} with the low-impedance input",
    "V DC low": "Measure the DC voltage from {a} (red) to {b} with the low-impedance input",
    "ohm": "Measure the resistance from {a} to {b}",
    "Mohm": "Measure the insulation resistance from {a} to {b}",
    "Hz": "Measure the frequency from {a} to {b}",
    "mA": "Measure the current through {a} with the meter in the circuit",
    "clamp A": "Clamp the current in the wire at {a}",
    "words": "Look at {a}: what does it show?",
}
"""What a test that nobody worded tells the electrician to do."""
