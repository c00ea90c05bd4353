"""Machine + condition + cause -> node voltages over time, and what a meter reads.

The doors are `Circuit` (compile once), `Simulation` (one set of faults) and `Meter`.
"""
