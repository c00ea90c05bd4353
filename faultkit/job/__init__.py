"""A job: events go in, a state comes out, an assessment is shown.

    knowledge  = know(prediction)                      in knowledge.py
    state      = step(state, event)                    in step.py
    assessment = assess(state, knowledge)              in assess.py
    suggestion = consider(state, knowledge, test)      any test, proposed or not; in assess.py

What an event would change is seen by assessing the state it leads to: nothing is kept.

The doors are imported from their modules, because events and records are wanted by those that
only keep or list jobs, and must not bring the mathematics of an assessment with them.
"""
