"""YAML text in, a checked machine or a list of problems out."""

from faultkit.loading.find import bundled_machines, find_machine, user_machines
from faultkit.loading.load import Loaded, load
from faultkit.loading.problems import Problem

__all__ = ["Loaded", "Problem", "bundled_machines", "find_machine", "load",
           "user_machines"]
