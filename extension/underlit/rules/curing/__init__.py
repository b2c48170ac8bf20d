"""What would help a card whose lights are too bright, faint or soon out: proved by computing.

Glossary
    fault       what one of the six electrical rules finds: its code, a name, how far over
    state       a card, and what has been changed about it so far
    option      one change, in words a maker can follow, and the state that it leads to
    cure        an option that takes faults away and brings no new one, nor makes one worse
    plan        the few cures of one card; each holds together with those before it

    faults                    a case -> what is over a limit
    states                    a card under a change, or with other tape or battery
    lights, tape, batteries   options
    plan                      the search
    remedies                  the plan in words, each cure once
"""
