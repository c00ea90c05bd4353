"""Keys and help of the bench."""

from faultkit.terminal.keys import Key

KEYS = (
    Key("s", "skip", "skip", "Cannot get at it: leave this test out, propose another", bar=True),
    Key("t", "tests", "tests", "Take any other test: searchable list of all", bar=True),
    Key("u", "undo", "undo", "Take the last change back", bar=True),
    Key("w", "why", "why", "Why this test, what it costs and gains, all cautions", bar=True),
    Key("r", "readings", "readings", "Change or take back any reading", bar=True),
    Key("p", "suspects", "suspects", "All suspects and their chances", bar=True),
    Key("f", "finding", "finding", "Look at the finding and its remedy"),
    Key("c", "complaint", "complaint", "Back to the complaint, to change it", bar=True),
    Key("down", "others", "list", "Into the list of other tests; a digit or Enter takes one"),
    Key("escape", "back", "back", "Back: to the reading, the proposed test, the complaint"),
    Key("pageup", "roll(-5)", "roll", "Roll up"),
    Key("pagedown", "roll(5)", "roll", "Roll down"),
)

HELP = (
    "Do what stands under DO NOW, with the machine in the state named there. Heed the line "
    "that begins with ! before you touch anything. Type what the meter shows and press "
    "Enter: 24,5 and 24.5 are the same, OL is a reading, k and M are understood. Where "
    "words are asked for, type the number of the word. What was understood shows beside "
    "the field before you press Enter. IF IT READS tells beforehand what each reading "
    "would mean. SUSPECTS shows how likely each fault is and how the last reading moved "
    "it, in points. OTHER lists what else is worth its minutes, with the gain in bits: one "
    "bit halves the suspects. If you cannot get at a point, press s."
)
