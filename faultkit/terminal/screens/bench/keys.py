"""Keys and help of the bench."""

from faultkit.terminal.keys import Key

KEYS = (
    Key("s", "skip", "skip", "Cannot get at it: leave this test out, propose another", bar=True),
    Key("t", "tests", "tests", "Take any other test: searchable list of all", bar=True),
    Key("u", "undo", "undo", "Take the last change back", bar=True),
    Key("w", "why", "why", "Why this test, what it costs and gains, all cautions", bar=True),
    Key("d", "switch", "dead/live", "Make the machine dead, or live again, step by step",
        bar=True),
    Key("r", "readings", "readings", "Change, take back or repeat any reading", bar=True),
    Key("e", "free", "free", "Free entry: any two points, any meter, any state", bar=True),
    Key("p", "suspects", "suspects", "All suspects and their chances", bar=True),
    Key("f", "finding", "finding", "Look at the finding, and put it right"),
    Key("h", "hand_back", "hand back", "Prove every safety function, then close the job",
        bar=True),
    Key("x", "works", "works now", "It works now: what to do where nothing is found"),
    Key("b", "bridges", "bridge", "A safety device was found bridged, or the bridge is out"),
    Key("n", "remarks", "note", "Write a remark for the report"),
    Key("k", "call", "call-out", "Change the call-out: load, people, dead work only"),
    Key("c", "complaint", "complaint", "Change what shows and what works", bar=True),
    Key("v", "report", "report", "View the report as it stands, and save it", bar=True),
    Key("l", "secure", "load", "Say how the load was landed or secured"),
    Key("down", "others", "list", "Into the list of other tests; a digit or Enter takes one"),
    Key("escape", "back", "back", "Back: to the reading, to the proposed test, to the start"),
    Key("pageup", "roll(-5)", "roll", "Roll up"),
    Key("pagedown", "roll(5)", "roll", "Roll down"),
)

HELP = (
    "Do what stands under DO NOW, with the machine in the state named there. Heed the line "
    "that begins with ! before you touch anything. Where the card says FIRST, press d and go "
    "through the steps. Type what the meter shows and press "
    "Enter: 24,5 and 24.5 are the same, OL is a reading, k and M are understood. Where "
    "words are asked for, type the number of the word. What was understood shows beside "
    "the field before you press Enter. IF IT READS tells beforehand what each reading "
    "would mean. SUSPECTS shows how likely each fault is and how the last reading moved "
    "it, in points. OTHER lists what else is worth its minutes, with the gain in bits: one "
    "bit halves the suspects. If you cannot get at a point, press s."
)
